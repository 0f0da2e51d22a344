'use server';

import { z } from 'zod';
import { type WriteContext, writeAction } from '@/lib/access/action';
import { readHarmPlace } from '@/lib/records/complications/context';
import { readComplication } from '@/lib/records/complications/read';
import {
  adjudicateComplication,
  amendComplication,
  reportComplication,
  voidComplication,
} from '@/lib/records/complications/write';
import { wasStored } from '@/lib/records/write-requests/read';
import { calendarDay } from '@/lib/registry/calendar-day';
import type { Harm } from '@/lib/registry/complications';
import { adjudicationSchema, checkAdjudication } from '@/lib/registry/forms/adjudication-form';
import { checkComplicationAgainstCase } from '@/lib/registry/forms/complication-checks';
import { harmTicks } from '@/lib/registry/forms/complication-entries';
import { complicationAmendmentSchema, complicationFormSchema } from '@/lib/registry/forms/complication-form';
import { ADJUDICATION_LABELS, COMPLICATION_LABELS, VOID_LABELS } from '@/lib/registry/forms/field-labels';
import { keptValuesOf, standingFindings } from '@/lib/registry/forms/kept-values';
import { voidFormSchema } from '@/lib/registry/forms/void-form';
import type { WriteResult } from '@/lib/registry/write-result';
import { ApplicationError } from '@/lib/runtime/application-error';
import { todayText } from '@/lib/runtime/clock';

const today = () => calendarDay(todayText());
const idSchema = z.uuid();
const listOf = (caseId: string) => `/cases/${caseId}/complications`;

export async function enterComplication(caseId: string, input: unknown): Promise<WriteResult> {
  const write = writeAction(
    { permission: 'complication.write', schema: complicationFormSchema, labels: COMPLICATION_LABELS },
    async ({ actor, request }, values) => {
      const place = await placeOf(actor, caseId);
      const context = { ...place.complication, today: today(), judgedReport: null };
      const findings = checkComplicationAgainstCase(values, context);
      const standing = standingFindings(findings, values.kept);
      if (standing.length > 0 && !(await wasStored(actor, request)))
        return { kind: 'invalid', findings: standing };
      const kept = keptValuesOf(findings, values.kept, asTicked(values));
      const written = await reportComplication(actor, place, values, request, kept);
      return {
        kind: 'saved',
        ...written,
        message: 'The complication is reported. Somebody else has to adjudicate it.',
        href: listOf(place.procedureId),
      };
    },
  );
  return write(input);
}

export async function changeComplication(caseId: string, id: string, input: unknown): Promise<WriteResult> {
  const write = writeAction(
    { permission: 'complication.write', schema: complicationAmendmentSchema, labels: COMPLICATION_LABELS },
    async ({ actor, request }, values) => {
      const { complication, place } = await complicationOf(actor, caseId, id);
      const { reported, adjudication } = complication;
      const judgedReport = adjudication === null ? null : reported;
      const context = { ...place.complication, today: today(), judgedReport };
      const findings = checkComplicationAgainstCase(values, context);
      const standing = standingFindings(findings, values.kept);
      if (standing.length > 0 && !(await wasStored(actor, request)))
        return { kind: 'invalid', findings: standing };
      const kept = keptValuesOf(findings, values.kept, asTicked(values));
      const key = { id: complication.id, patientId: place.patientId };
      const written = await amendComplication(actor, key, values, request, kept);
      return {
        kind: 'saved',
        ...written,
        message: 'The complication is changed.',
        href: listOf(place.procedureId),
      };
    },
  );
  return write(input);
}

export async function judgeComplication(caseId: string, id: string, input: unknown): Promise<WriteResult> {
  const write = writeAction(
    { permission: 'complication.adjudicate', schema: adjudicationSchema, labels: ADJUDICATION_LABELS },
    async ({ actor, request }, values) => {
      const { complication, place } = await complicationOf(actor, caseId, id);
      const findings = checkAdjudication(values, {
        ...place.complication,
        today: today(),
        judgedReport: null,
        reported: complication.reported,
        reportedById: complication.reportedById,
        judgeId: actor.id,
        isAdjudicated: complication.adjudication !== null && complication.version === values.version,
      });
      const standing = standingFindings(findings, values.kept);
      if (standing.length > 0 && !(await wasStored(actor, request)))
        return { kind: 'invalid', findings: standing };
      const kept = keptValuesOf(findings, values.kept, asTicked(values));
      const key = { id: complication.id, patientId: place.patientId };
      const written = await adjudicateComplication(actor, key, values, request, kept);
      return {
        kind: 'saved',
        ...written,
        message: 'The verdict is saved. What was reported stays beside it.',
        href: listOf(place.procedureId),
      };
    },
  );
  return write(input);
}

export async function makeComplicationVoid(caseId: string, id: string, input: unknown): Promise<WriteResult> {
  const write = writeAction(
    { permission: 'complication.write', schema: voidFormSchema, labels: VOID_LABELS },
    async ({ actor, request }, values) => {
      const { complication, place } = await complicationOf(actor, caseId, id);
      const key = { id: complication.id, patientId: place.patientId };
      const written = await voidComplication(actor, key, values, request);
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

/** The values as the form holds them, so that a harm is found by its path. */
const asTicked = <Values extends { readonly harms: readonly Harm[] }>(values: Values) => ({
  ...values,
  harms: harmTicks(values.harms),
});

type Actor = WriteContext['actor'];

async function placeOf(actor: Actor, caseId: string, entryId?: string) {
  const id = idSchema.safeParse(caseId);
  const place = id.success ? await readHarmPlace(actor, id.data, entryId) : null;
  if (!place) throw new ApplicationError('not-found', 'There is no such case in this lab.');
  return place;
}

async function complicationOf(actor: Actor, caseId: string, typedId: string) {
  const id = idSchema.safeParse(typedId);
  const complication = id.success ? await readComplication(actor, id.data) : null;
  const place = await placeOf(actor, caseId, complication?.id);
  if (complication?.procedureId !== place.procedureId) {
    throw new ApplicationError('not-found', 'There is no such complication in this case.');
  }
  return { complication, place };
}
