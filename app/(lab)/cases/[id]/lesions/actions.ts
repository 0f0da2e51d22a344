'use server';

import { z } from 'zod';
import { writeAction } from '@/lib/access/action';
import { admit } from '@/lib/access/current-actor';
import { decodeApplicationsCsv } from '@/lib/exchange/rf-csv';
import { dropDraft } from '@/lib/records/drafts/write';
import { readLesions } from '@/lib/records/lesions/read';
import { recordLesions } from '@/lib/records/lesions/write';
import { wasStored } from '@/lib/records/write-requests/read';
import { findingsOfZod } from '@/lib/registry/findings';
import { keptValuesOf, standingFindings } from '@/lib/registry/forms/kept-values';
import { checkLesionsAgainstCase } from '@/lib/registry/forms/lesion-checks';
import { lesionFormSchema } from '@/lib/registry/forms/lesion-form';
import { LESION_LABELS } from '@/lib/registry/forms/lesion-labels';
import { lesionValuesOf } from '@/lib/registry/forms/lesion-values';
import type { ApplicationFileAnswer } from '@/lib/registry/rf-applications';
import type { WriteResult } from '@/lib/registry/write-result';
import { ApplicationError } from '@/lib/runtime/application-error';
import { fileUploadSchema, wholeFile } from './file-upload';

const idSchema = z.uuid();

/** Stores the whole lesion set of a case with its acute endpoint. */
export async function storeLesions(caseId: string, input: unknown): Promise<WriteResult> {
  const write = writeAction(
    { permission: 'lesions.write', schema: lesionFormSchema, labels: LESION_LABELS },
    async ({ actor, request }, values) => {
      const id = idSchema.safeParse(caseId);
      const place = id.success ? await readLesions(actor, id.data) : null;
      if (!place) throw new ApplicationError('not-found', 'There is no such case in this lab.');
      const findings = checkLesionsAgainstCase(values, place.context);
      // A stale form is told so first: what it lacks (a reason, say) may be due to what it has not seen.
      const isStale = values.version < place.version;
      const standing = standingFindings(findings, values.kept);
      if (standing.length > 0 && !isStale && !(await wasStored(actor, request))) {
        return { kind: 'invalid', findings: standing };
      }
      const kept = keptValuesOf(findings, values.kept, lesionValuesOf(values, values.version));
      const { version } = await recordLesions(actor, place, values, request, kept);
      await dropDraft(actor, { form: 'lesions', subject: place.id });
      return {
        kind: 'saved',
        id: place.id,
        version,
        message: 'The lesion set is saved.',
        href: `/cases/${place.id}/lesions`,
      };
    },
  );
  return write(input);
}

const MOST_TOLD = 40;

/** Reads a file of single applications and answers its rows, or all that is wrong by line; writes nothing. */
export async function readApplicationFile(input: unknown): Promise<ApplicationFileAnswer> {
  const admission = await admit('lesions.write');
  if (admission.kind === 'unauthenticated') return { kind: 'unauthenticated' };
  const refuse = (...findings: string[]): ApplicationFileAnswer => ({
    kind: 'refused',
    findings: findings.slice(0, MOST_TOLD),
    more: Math.max(0, findings.length - MOST_TOLD),
  });
  if (admission.kind === 'forbidden') return refuse('Your role may not record a lesion set.');
  const upload = fileUploadSchema.safeParse(input);
  if (!upload.success) return refuse(...findingsOfZod(upload.error).map(({ message }) => message));
  const bytes = wholeFile(upload.data);
  if (bytes === null) return refuse('The file did not arrive whole. Choose it again.');
  const decoded = decodeApplicationsCsv(bytes);
  return decoded.kind === 'read' ? decoded : refuse(...decoded.findings);
}
