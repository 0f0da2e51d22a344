'use server';

import { z } from 'zod';
import { type WriteContext, writeAction } from '@/lib/access/action';
import { readCaseStanding } from '@/lib/records/case-states/read';
import { enterCase, signCase } from '@/lib/records/case-states/write';
import { readVisitForEditing } from '@/lib/records/cases/follow-up';
import { readCase } from '@/lib/records/cases/read';
import { dropDraft } from '@/lib/records/drafts/write';
import { readProcedurePlace } from '@/lib/records/procedures/context';
import { amendProcedure } from '@/lib/records/procedures/write';
import { readVisitPlace } from '@/lib/records/visits/context';
import { amendVisit, recordVisit } from '@/lib/records/visits/write';
import { wasStored } from '@/lib/records/write-requests/read';
import { calendarDay } from '@/lib/registry/calendar-day';
import { missingForEntered, missingForSigned } from '@/lib/registry/case-state';
import { isRefused, refusal } from '@/lib/registry/findings';
import { PROCEDURE_LABELS, VISIT_LABELS } from '@/lib/registry/forms/field-labels';
import { keptValuesOf, standingFindings } from '@/lib/registry/forms/kept-values';
import { checkProcedureAgainstPatient } from '@/lib/registry/forms/procedure-checks';
import { procedureAmendmentSchema } from '@/lib/registry/forms/procedure-form';
import { checkVisitAgainstCase } from '@/lib/registry/forms/visit-checks';
import { visitAmendmentSchema, visitFormSchema } from '@/lib/registry/forms/visit-form';
import type { WriteResult } from '@/lib/registry/write-result';
import { ApplicationError } from '@/lib/runtime/application-error';
import { todayText } from '@/lib/runtime/clock';

const today = () => calendarDay(todayText());
const idSchema = z.uuid();

function idOf(typed: string): string {
  const id = idSchema.safeParse(typed);
  if (!id.success) throw new ApplicationError('not-found', 'There is no such case in this lab.');
  return id.data;
}

export async function changeProcedure(caseId: string, input: unknown): Promise<WriteResult> {
  const write = writeAction(
    { permission: 'procedure.write', schema: procedureAmendmentSchema, labels: PROCEDURE_LABELS },
    async ({ actor, request }, values) => {
      const head = await readCase(actor, idOf(caseId));
      const place = head && (await readProcedurePlace(actor, head.patientId, head.id));
      if (!place) throw new ApplicationError('not-found', 'There is no such case in this lab.');
      const findings = checkProcedureAgainstPatient(values, { ...place.context, today: today() });
      const standing = standingFindings(findings, values.kept);
      if (standing.length > 0 && !(await wasStored(actor, request))) {
        return { kind: 'invalid', findings: standing };
      }
      const kept = keptValuesOf(findings, values.kept, values);
      const { id, version } = await amendProcedure(actor, head, values, request, kept);
      await dropDraft(actor, { form: 'procedure', subject: head.id });
      return { kind: 'saved', id, version, message: 'The procedure is changed.', href: `/cases/${id}` };
    },
  );
  return write(input);
}

const versionSchema = z.strictObject({ version: z.int().min(1) });

/** Marks a draft as entered once nothing that every case needs is missing. */
export async function markAsEntered(caseId: string, input: unknown): Promise<WriteResult> {
  const write = writeAction(
    { permission: 'procedure.write', schema: versionSchema },
    async ({ actor, request }, { version }) => {
      const { head, missing } = await standingOf(actor, caseId, 'entered');
      if (missing.length > 0 && !(await wasStored(actor, request)))
        return { kind: 'invalid', findings: missing };
      const moved = await enterCase(actor, head, version, request);
      return { kind: 'saved', ...moved, message: 'The case is entered.' };
    },
  );
  return write(input);
}

/** Signs an entered case for the person who presses. */
export async function signForCase(caseId: string, input: unknown): Promise<WriteResult> {
  const write = writeAction(
    { permission: 'case.sign', schema: versionSchema },
    async ({ actor, request }, { version }) => {
      const { head, missing } = await standingOf(actor, caseId, 'signed');
      if (missing.length > 0 && !(await wasStored(actor, request)))
        return { kind: 'invalid', findings: missing };
      const moved = await signCase(actor, head, version, request);
      return { kind: 'saved', ...moved, message: 'The case is signed.' };
    },
  );
  return write(input);
}

async function standingOf(actor: WriteContext['actor'], caseId: string, next: 'entered' | 'signed') {
  const id = idOf(caseId);
  const [head, standing] = await Promise.all([readCase(actor, id), readCaseStanding(actor, id)]);
  if (!head || !standing) throw new ApplicationError('not-found', 'There is no such case in this lab.');
  const items = next === 'entered' ? missingForEntered(standing) : missingForSigned(standing);
  const missing = items.map(({ what, field }) => refusal(field, `Missing: ${what}.`));
  return { head, missing };
}

export async function enterVisit(caseId: string, input: unknown): Promise<WriteResult> {
  const write = writeAction(
    { permission: 'visit.write', schema: visitFormSchema, labels: VISIT_LABELS },
    async ({ actor, request }, values) => {
      const place = await placeOf(actor, caseId);
      const findings = checkVisitAgainstCase(values, { ...place.context, today: today() });
      if (isRefused(findings) && !(await wasStored(actor, request))) return { kind: 'invalid', findings };
      const { id, version } = await recordVisit(actor, place, values, request);
      await dropDraft(actor, { form: 'visit-new', subject: place.procedureId });
      return {
        kind: 'saved',
        id,
        version,
        message: 'The visit is saved.',
        href: followUpOf(place.procedureId),
      };
    },
  );
  return write(input);
}

export async function changeVisit(caseId: string, visitId: string, input: unknown): Promise<WriteResult> {
  const write = writeAction(
    { permission: 'visit.write', schema: visitAmendmentSchema, labels: VISIT_LABELS },
    async ({ actor, request }, values) => {
      const visit = await readVisitForEditing(actor, idOf(visitId));
      const place = await placeOf(actor, caseId, visit?.id);
      if (visit?.procedureId !== place.procedureId) {
        throw new ApplicationError('not-found', 'There is no such visit in this case.');
      }
      const findings = checkVisitAgainstCase(values, { ...place.context, today: today() });
      if (isRefused(findings) && !(await wasStored(actor, request))) return { kind: 'invalid', findings };
      const { id, version } = await amendVisit(actor, visit, values, request);
      await dropDraft(actor, { form: 'visit', subject: visit.id });
      return {
        kind: 'saved',
        id,
        version,
        message: 'The visit is changed.',
        href: followUpOf(place.procedureId),
      };
    },
  );
  return write(input);
}

const followUpOf = (caseId: string) => `/cases/${caseId}/follow-up`;

async function placeOf(actor: WriteContext['actor'], caseId: string, visitId?: string) {
  const place = await readVisitPlace(actor, idOf(caseId), visitId);
  if (!place) throw new ApplicationError('not-found', 'There is no such case in this lab.');
  return place;
}
