import type { DecodedRhythm } from './rhythm-csv';
import type { RhythmMapping } from './rhythm-mapping';
import { type ImportMeans, importToLoad } from './rhythm-to-patients';

/** What publishing needs from outside: the means to shape the rows, and the loader that writes all or none. */
export interface PublishMeans extends ImportMeans {
  /** A load that would store something twice throws an error with a `code`: 'file-known', 'patients-known' or 'code-taken'. */
  readonly load: (shaped: ReturnType<typeof importToLoad>) => Promise<void>;
}

export type Published =
  | {
      readonly kind: 'written';
      readonly batchId: string;
      readonly patients: number;
      readonly readings: number;
    }
  /** Patients of the file came in by an earlier file of this source. Nothing was written. */
  | { readonly kind: 'patients-known'; readonly message: string }
  /** This very file was published before, or by somebody else in the same moment. Nothing was written by this one. */
  | { readonly kind: 'file-known'; readonly message: string };

const MOST_ATTEMPTS = 3;

/**
 * Publishes a decoded file. A patient code that somebody else took in the same moment is drawn anew, three times at most.
 * Everything else that the loader throws passes through.
 */
export async function publishImport(
  decoded: DecodedRhythm,
  mapping: RhythmMapping,
  means: PublishMeans,
): Promise<Published> {
  for (let attempt = 1; ; attempt += 1) {
    const shaped = importToLoad(decoded, mapping, means);
    try {
      await means.load(shaped);
      const { id, published } = shaped.batch;
      return { kind: 'written', batchId: id, patients: shaped.patients.length, readings: published };
    } catch (error) {
      if (!(error instanceof Error && 'code' in error)) throw error;
      const { code, message } = error;
      if (code === 'file-known' || code === 'patients-known') return { kind: code, message };
      if (code !== 'code-taken' || attempt === MOST_ATTEMPTS) throw error;
    }
  }
}

interface EarlierImport {
  readonly source: string;
  /** First hex digits of the file's SHA-256. */
  readonly fingerprint: string;
  readonly at: string;
}

/** The import of this very file from this source, if it is among those given. The loader has the last word. */
export function findEarlierImport<Past extends EarlierImport>(
  past: readonly Past[],
  source: string,
  fileSha256: Uint8Array,
): Past | undefined {
  const digest = Array.from(fileSha256, (byte) => byte.toString(16).padStart(2, '0')).join('');
  return past.find((one) => one.source === source && digest.startsWith(one.fingerprint));
}
