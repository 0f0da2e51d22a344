import type { DecodedRhythm } from './rhythm-csv';
import type { RhythmMapping } from './rhythm-mapping';
import { type ImportMeans, importToLoad } from './rhythm-to-patients';

/** What publishing needs from outside: the means to shape the rows, and the loader that writes all or none. */
export interface PublishMeans extends ImportMeans {
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
  /** Somebody published this very file in the same moment. Nothing was written by this one. */
  | { readonly kind: 'file-known'; readonly message: string };

const MOST_ATTEMPTS = 3;

/**
 * Publishes a decoded file. A patient code that somebody else took in the same moment is drawn anew. Everything else the
 * loader throws passes through, as the conflict of a file that was imported before.
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
      if (breaks(error, 'file_sha256')) return fileKnown(mapping);
      if (breaks(error, 'patients_lab_id_import_reference_hash_key')) return patientsKnown(mapping);
      if (!breaks(error, 'patients_lab_id_code_key') || attempt === MOST_ATTEMPTS) throw error;
    }
  }
}

/** The database names the rule that a load broke; the loader hands its words on. */
function breaks(error: unknown, constraint: string): boolean {
  return error instanceof Error && error.message.includes(constraint);
}

function patientsKnown({ source }: RhythmMapping): Published {
  const message =
    `Patients of this file are already in the registry, from an earlier file of "${source}". ` +
    'Keep only new patients in the file, or name another source if these are other people. Nothing was written.';
  return { kind: 'patients-known', message };
}

function fileKnown({ source }: RhythmMapping): Published {
  return {
    kind: 'file-known',
    message: `This very file was imported from "${source}" a moment ago; nothing was changed.`,
  };
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
