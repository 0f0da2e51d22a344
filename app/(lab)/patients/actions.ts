'use server';

import { z } from 'zod';
import { writeAction } from '@/lib/access/action';
import { isAllowed } from '@/lib/access/permissions';
import { dropDraft } from '@/lib/records/drafts/write';
import { readPatientContext } from '@/lib/records/patients/context';
import { amendPatient, createPatient } from '@/lib/records/patients/write';
import { readProcedurePlace } from '@/lib/records/procedures/context';
import { recordProcedure } from '@/lib/records/procedures/write';
import { wasStored } from '@/lib/records/write-requests/read';
import { calendarDay } from '@/lib/registry/calendar-day';
import { isRefused } from '@/lib/registry/findings';
import { PATIENT_LABELS, PROCEDURE_LABELS } from '@/lib/registry/forms/field-labels';
import { keptValuesOf, standingFindings } from '@/lib/registry/forms/kept-values';
import { checkPatientAgainstHistory } from '@/lib/registry/forms/patient-checks';
import { patientAmendmentSchema, patientFormSchema } from '@/lib/registry/forms/patient-form';
import { checkProcedureAgainstPatient } from '@/lib/registry/forms/procedure-checks';
import { procedureFormSchema } from '@/lib/registry/forms/procedure-form';
import type { WriteResult } from '@/lib/registry/write-result';
import { ApplicationError } from '@/lib/runtime/application-error';
import { todayText } from '@/lib/runtime/clock';

const today = () => calendarDay(todayText());
const idSchema = z.uuid();

/** The id that the form was opened for; it comes with the call, not with what was typed. */
function idOf(typed: string): string {
  const id = idSchema.safeParse(typed);
  if (!id.success) throw new ApplicationError('not-found', 'There is no such patient in this lab.');
  return id.data;
}

export async function registerPatient(input: unknown): Promise<WriteResult> {
  const write = writeAction(
    { permission: 'patient.write', schema: patientFormSchema, labels: PATIENT_LABELS },
    async ({ actor, request }, values) => {
      const findings = checkPatientAgainstHistory(values, {
        today: today(),
        procedures: [],
        lastSeenOn: null,
      });
      if (isRefused(findings) && !(await wasStored(actor, request))) return { kind: 'invalid', findings };
      const { id, code, version } = await createPatient(actor, values, request);
      const mayRecord = isAllowed(actor.role, 'procedure.write');
      const message = `Patient ${code} is registered.${mayRecord ? ' Record the procedure now.' : ''}`;
      return {
        kind: 'saved',
        id,
        version,
        message,
        href: `/patients/${id}${mayRecord ? '/procedures/new' : ''}`,
      };
    },
  );
  return write(input);
}

export async function changePatient(patientId: string, input: unknown): Promise<WriteResult> {
  const write = writeAction(
    { permission: 'patient.write', schema: patientAmendmentSchema, labels: PATIENT_LABELS },
    async ({ actor, request }, values) => {
      const id = idOf(patientId);
      const findings = checkPatientAgainstHistory(values, {
        ...(await readPatientContext(actor, id)),
        today: today(),
      });
      if (isRefused(findings) && !(await wasStored(actor, request))) return { kind: 'invalid', findings };
      const { code, version } = await amendPatient(actor, id, values, request);
      return { kind: 'saved', id, version, message: `Patient ${code} is changed.`, href: `/patients/${id}` };
    },
  );
  return write(input);
}

export async function recordProcedureOf(patientId: string, input: unknown): Promise<WriteResult> {
  const write = writeAction(
    { permission: 'procedure.write', schema: procedureFormSchema, labels: PROCEDURE_LABELS },
    async ({ actor, request }, values) => {
      const place = await readProcedurePlace(actor, idOf(patientId));
      if (!place) throw new ApplicationError('not-found', 'There is no such patient in this lab.');
      const findings = checkProcedureAgainstPatient(values, { ...place.context, today: today() });
      const standing = standingFindings(findings, values.kept);
      if (standing.length > 0 && !(await wasStored(actor, request))) {
        return { kind: 'invalid', findings: standing };
      }
      const kept = keptValuesOf(findings, values.kept, values);
      const { id, version } = await recordProcedure(actor, place.patientId, values, request, kept);
      await dropDraft(actor, { form: 'procedure-new', subject: place.patientId });
      return { kind: 'saved', id, version, message: 'The procedure is recorded.', href: `/cases/${id}` };
    },
  );
  return write(input);
}
