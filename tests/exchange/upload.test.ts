import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { publishSchema, receive, type Upload, uploadSchema } from '@/app/(lab)/exchange/upload';
import { MAX_UPLOAD_BYTES } from '@/app/(lab)/exchange/upload-limits';

/** An upload as the browser makes it of these bytes. */
function uploadOf(fileText: string): Upload {
  const bytes = Buffer.from(fileText, 'utf8');
  const sha256 = createHash('sha256').update(bytes).digest('hex');
  return { fileText, byteCount: bytes.length, sha256, mappingText: '{}' };
}

describe('an upload', () => {
  it('arrives with the bytes that were sent, the mark at the beginning included', () => {
    const upload = uploadOf('\uFEFFid,months\r\n\u00fc,1\n');
    const arrival = receive(upload);
    expect(arrival.kind).toBe('whole');
    if (arrival.kind !== 'whole') return;
    expect(Buffer.from(arrival.bytes).subarray(0, 5).toString('hex')).toBe('efbbbf6964');
    expect(Buffer.from(arrival.sha256).toString('hex')).toBe(upload.sha256);
  });

  it('is refused wherever it was cut, and when one character became another', () => {
    const whole = uploadOf('id,months,af\na,1.5,0\na,2.5,1\n\u00fc,3,0\n');
    fc.assert(
      fc.property(fc.nat(whole.fileText.length - 1), (at) => {
        const cut = receive({ ...whole, fileText: whole.fileText.slice(0, at) });
        expect(cut.kind).toBe('damaged');
        const before = whole.fileText.slice(0, at);
        const changed = receive({ ...whole, fileText: `${before}#${whole.fileText.slice(at + 1)}` });
        expect(changed.kind).toBe('damaged');
      }),
    );
  });

  it('is bounded and strict', () => {
    const upload = uploadOf('x');
    expect(uploadSchema.safeParse(upload).success).toBe(true);
    const wrong = [
      { ...upload, fileText: 'x'.repeat(MAX_UPLOAD_BYTES + 1) },
      { ...upload, byteCount: MAX_UPLOAD_BYTES + 1 },
      { ...upload, byteCount: 1.5 },
      { ...upload, sha256: 'abc' },
      { ...upload, mappingText: ' '.repeat(20_001) },
      { ...upload, labId: 'other' },
      { ...upload, fileText: ['x'] },
      null,
    ];
    for (const one of wrong) expect(uploadSchema.safeParse(one).success).toBe(false);
    expect(publishSchema.safeParse(upload).success).toBe(false);
    expect(publishSchema.safeParse({ ...upload, acceptRefused: false }).success).toBe(true);
  });
});
