'use server';

import { z } from 'zod';
import { type WriteContext, writeAction } from '@/lib/access/action';
import { readHarmPlace } from '@/lib/records/complications/context';
import { readReadmissionForEditing } from '@/lib/records/readmissions/read';
import { amendReadmission, recordReadmission, voidReadmission } from '@/lib/records/readmissions/write';
import { wasStored } from '@/lib/records/write-requests/read';
import { calendarDay } from '@/lib/registry/calendar-day';
import { READMISSION_LABELS, VOID_LABELS } from '@/lib/registry/forms/field-labels';
import { keptValuesOf, standingFindings } from '@/lib/registry/forms/kept-values';
import {
  checkReadmissionAgainstCase,
  readmissionAmendmentSchema,
  readmissionFormSchema,
} from '@/lib/registry/forms/readmission-form';
import { voidFormSchema } from '@/lib/registry/forms/void-form';
import type { WriteResult } from '@/lib/registry/write-result';
import { ApplicationError } from '@/lib/runtime/application-error';
import { todayText } from '@/lib/runtime/clock';

const today = () => calendarDay(todayText());
const idSchema = z.uuid();
const listOf = (caseId: string) => `/cases/${caseId}/complications`;

export async function enterReadmission(caseId: string, input: unknown): Promise<WriteResult> {
  const write = writeAction(
    { permission: 'complication.write', schema: readmissionFormSchema, labels: READMISSION_LABELS },
    async ({ actor, request }, values) => {
      const place = await placeOf(actor, caseId);
      const findings = checkReadmissionAgainstCase(values, { ...place.readmission, today: today() });
      const standing = standingFindings(findings, values.kept);
      if (standing.length > 0 && !(await wasStored(actor, request)))
        return { kind: 'invalid', findings: standing };
      const kept = keptValuesOf(findings, values.kept, values);
      const written = await recordReadmission(actor, place, values, request, kept);
      return {
        kind: 'saved',
        ...written,
        message: 'The readmission is saved.',
        href: listOf(place.procedureId),
      };
    },
  );
  return write(input);
}

export async function changeReadmission(caseId: string, id: string, input: unknown): Promise<WriteResult> {
  const write = writeAction(
    { permission: 'complication.write', schema: readmissionAmendmentSchema, labels: READMISSION_LABELS },
    async ({ actor, request }, values) => {
      const { key, place } = await readmissionOf(actor, caseId, id);
      const findings = checkReadmissionAgainstCase(values, { ...place.readmission, today: today() });
      const standing = standingFindings(findings, values.kept);
      if (standing.length > 0 && !(await wasStored(actor, request)))
        return { kind: 'invalid', findings: standing };
      const kept = keptValuesOf(findings, values.kept, values);
      const written = await amendReadmission(actor, key, values, request, kept);
      return {
        kind: 'saved',
        ...written,
        message: 'The readmission is changed.',
        href: listOf(place.procedureId),
      };
    },
  );
  return write(input);
}

export async function makeReadmissionVoid(caseId: string, id: string, input: unknown): Promise<WriteResult> {
  const write = writeAction(
    { permission: 'complication.write', schema: voidFormSchema, labels: VOID_LABELS },
    async ({ actor, request }, values) => {
      const { key, place } = await readmissionOf(actor, caseId, id);
      const written = await voidReadmission(actor, key, values, request);
      return {
        kind: 'saved',
        ...written,
        message: 'The entry is void. It stays readable.',
        href: listOf(place.procedureId),
      };
    },
  );
  return write(input);
}

type Actor = WriteContext['actor'];

async function placeOf(actor: Actor, caseId: string, entryId?: string) {
  const id = idSchema.safeParse(caseId);
  const place = id.success ? await readHarmPlace(actor, id.data, entryId) : null;
  if (!place) throw new ApplicationError('not-found', 'There is no such case in this lab.');
  return place;
}

async function readmissionOf(actor: Actor, caseId: string, typedId: string) {
  const id = idSchema.safeParse(typedId);
  const readmission = id.success ? await readReadmissionForEditing(actor, id.data) : null;
  const place = await placeOf(actor, caseId, readmission?.id);
  if (readmission?.procedureId !== place.procedureId) {
    throw new ApplicationError('not-found', 'There is no such readmission in this case.');
  }
  return { key: { id: readmission.id, patientId: place.patientId }, place };
}
