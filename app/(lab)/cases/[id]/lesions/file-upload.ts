import { z } from 'zod';
import { MOST_FILE_BYTES } from '@/lib/registry/rf-applications';

const TOO_LARGE = `The file is larger than ${MOST_FILE_BYTES / 1000} kB.`;

/** A file of applications as the browser sends it: its text, and how many bytes the browser read. */
export const fileUploadSchema = z.strictObject({
  fileText: z.string().max(MOST_FILE_BYTES, TOO_LARGE),
  byteCount: z.int().min(0).max(MOST_FILE_BYTES, TOO_LARGE),
});

/** The bytes of an upload; null when they are not as many as were read, since a body cut on its way looks like a shorter file. */
export function wholeFile({ fileText, byteCount }: z.infer<typeof fileUploadSchema>): Uint8Array | null {
  const bytes = new TextEncoder().encode(fileText);
  return bytes.length === byteCount ? bytes : null;
}
