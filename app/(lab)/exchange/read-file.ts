import { MAX_UPLOAD_BYTES } from './upload-limits';

/** A file read in the browser, with what the server checks it against. */
export interface ChosenFile {
  readonly name: string;
  readonly fileText: string;
  readonly byteCount: number;
  readonly sha256: string;
}

export type ReadFile =
  | { readonly kind: 'read'; readonly file: ChosenFile }
  | { readonly kind: 'refused'; readonly message: string };

/**
 * Reads a file as UTF-8 without changing a byte: a mark at its beginning stays, and text in another encoding is refused.
 * `command` is what imports files that are too large for a page.
 */
export async function readChosenFile(
  file: File,
  command: 'import' | 'import-device-days' = 'import',
): Promise<ReadFile> {
  if (file.size > MAX_UPLOAD_BYTES) {
    return refuse(
      `The file is larger than ${MAX_UPLOAD_BYTES / 1_000_000} MB. Import it with the command: npm run ${command} -- FILE.`,
    );
  }
  if (crypto.subtle === undefined) {
    return refuse(
      'This address is not secure, so the file cannot be checked on its way. Open the lab by https.',
    );
  }
  try {
    const bytes = await file.arrayBuffer();
    const digest = await crypto.subtle.digest('SHA-256', bytes);
    const fileText = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
    return {
      kind: 'read',
      file: { name: file.name, fileText, byteCount: bytes.byteLength, sha256: hexOf(digest) },
    };
  } catch (error) {
    if (error instanceof TypeError) {
      return refuse(
        'The file is not text in UTF-8 (a workbook, or another encoding). Save it as CSV in UTF-8.',
      );
    }
    return refuse('The browser could not read the file. It may have been moved or changed: choose it again.');
  }
}

const refuse = (message: string): ReadFile => ({ kind: 'refused', message });

const hexOf = (buffer: ArrayBuffer): string =>
  Array.from(new Uint8Array(buffer), (byte) => byte.toString(16).padStart(2, '0')).join('');
