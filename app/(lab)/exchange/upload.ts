import { createHash } from 'node:crypto';
import { z } from 'zod';
import { MAX_UPLOAD_BYTES } from './upload-limits';

/**
 * A file as the browser sends it: its text, and what the browser measured before sending. What arrives is measured again
 * before it is read, since a body that is cut on its way looks like a shorter file.
 */
export const fileSchema = z.strictObject({
  fileText: z.string().max(MAX_UPLOAD_BYTES, `The file is larger than ${MAX_UPLOAD_BYTES / 1_000_000} MB.`),
  byteCount: z
    .int()
    .min(0)
    .max(MAX_UPLOAD_BYTES, `The file is larger than ${MAX_UPLOAD_BYTES / 1_000_000} MB.`),
  sha256: z.string().regex(/^[0-9a-f]{64}$/, 'The file came without its checksum. Choose it again.'),
});

/** A file of rhythm readings comes with the mapping that says how it is read. */
export const uploadSchema = fileSchema.extend({
  mappingText: z.string().max(20_000, 'The mapping may have up to 20,000 characters.'),
});
export type Upload = z.infer<typeof uploadSchema>;

export const publishSchema = uploadSchema.extend({ acceptRefused: z.boolean() });

export type Arrival =
  | { readonly kind: 'whole'; readonly bytes: Uint8Array; readonly sha256: Uint8Array<ArrayBuffer> }
  | { readonly kind: 'damaged'; readonly message: string };

/** The bytes of an upload, or why they are not those that were sent. */
export function receive({ fileText, byteCount, sha256 }: z.infer<typeof fileSchema>): Arrival {
  const bytes = new TextEncoder().encode(fileText);
  const digest = new Uint8Array(createHash('sha256').update(bytes).digest());
  if (bytes.length === byteCount && Buffer.from(digest).toString('hex') === sha256) {
    return { kind: 'whole', bytes, sha256: digest };
  }
  const message = `The file did not arrive whole: ${bytes.length} of ${byteCount} bytes, or others than were sent. Choose it again.`;
  return { kind: 'damaged', message };
}
