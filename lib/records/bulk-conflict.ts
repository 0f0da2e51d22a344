import 'server-only';
import { z } from 'zod';
import { ApplicationError } from '../runtime/application-error';

/** The rule of uniqueness that a load broke, for programs. */
export type BulkConflictCode = 'file-known' | 'patients-known' | 'code-taken';

/** A load that would have stored something twice: nothing was written. */
export class BulkConflict extends ApplicationError {
  constructor(
    readonly code: BulkConflictCode,
    message: string,
  ) {
    super('conflict', message);
  }
}

/** How the driver says which unique index refused a row, whether the client or plain SQL wrote it. */
const brokenRule = z.object({
  meta: z.object({
    driverAdapterError: z.object({
      cause: z.object({ originalCode: z.literal('23505'), constraint: z.object({ index: z.string() }) }),
    }),
  }),
});

const CODE_OF_INDEX: ReadonlyMap<string, BulkConflictCode> = new Map([
  ['import_batches_lab_id_source_file_sha256_key', 'file-known'],
  ['patients_lab_id_import_reference_hash_key', 'patients-known'],
  ['patients_lab_id_code_key', 'code-taken'],
]);

/** What a load threw as the conflict it means, or as it came. `source` names where the load's file is from. */
export function conflictOf(error: unknown, source: string): unknown {
  const broken = brokenRule.safeParse(error);
  const code = broken.success
    ? CODE_OF_INDEX.get(broken.data.meta.driverAdapterError.cause.constraint.index)
    : undefined;
  return code ? new BulkConflict(code, wordsOf(code, source)) : error;
}

function wordsOf(code: BulkConflictCode, source: string): string {
  switch (code) {
    case 'file-known':
      return `This very file was imported from "${source}" a moment ago; nothing was changed.`;
    case 'patients-known':
      return (
        `Patients of this file are already in the registry, from an earlier file of "${source}". ` +
        'Keep only new patients in the file, or name another source if these are other people. Nothing was written.'
      );
    case 'code-taken':
      return 'A new patient code was taken by another entry in the same moment. Nothing was written; try again.';
  }
}
