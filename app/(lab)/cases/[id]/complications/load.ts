import 'server-only';
import { notFound } from 'next/navigation';
import { z } from 'zod';
import { readHarmPlace } from '@/lib/records/complications/context';
import { readComplication, readComplications } from '@/lib/records/complications/read';
import { readDraft } from '@/lib/records/drafts/read';
import { keptPrefix, readKeptValues } from '@/lib/records/kept-values/read';
import { readReadmissions } from '@/lib/records/readmissions/read';
import { calendarDay } from '@/lib/registry/calendar-day';
import { type AdjudicationInput, isOwnReport, reportText } from '@/lib/registry/forms/adjudication-form';
import { factsFormValues } from '@/lib/registry/forms/complication-entries';
import { todayText } from '@/lib/runtime/clock';
import { openCase } from '../load';

const idSchema = z.uuid();
const today = () => calendarDay(todayText());

/** Everything that harmed the patient of this case, in both states, and the stays in hospital after it. */
export async function loadComplications(typedId: string) {
  const { actor, head, may, standing } = await openCase(typedId, 'cases.read');
  const [complications, readmissions] = await Promise.all([
    readComplications(actor, head.id),
    readReadmissions(actor, head.id),
  ]);
  return {
    head,
    may,
    standing,
    complications,
    readmissions,
    diedOn: head.diedOn === null ? null : calendarDay(head.diedOn),
  };
}

/** What the form of a new complication needs. */
export async function loadNewComplication(typedId: string) {
  const { actor, head } = await openCase(typedId, 'complication.write');
  const place = await readHarmPlace(actor, head.id);
  if (!place) notFound();
  return {
    head,
    context: { ...place.complication, today: today(), judgedReport: null },
    draft: await readDraft(actor, 'complication-new', head.id),
  };
}

/** One complication in both states, and what this person may do with it now. */
export async function loadComplication(typedId: string, typedComplicationId: string) {
  const { actor, head, may } = await openCase(typedId, 'cases.read');
  const { complication, place } = await openComplication(actor, head.id, typedComplicationId);
  const { reported, reportedById, adjudication, isVoided, version } = complication;
  const facts = adjudication === null || adjudication.verdict === 'refuted' ? reported : adjudication.facts;
  const values: AdjudicationInput = {
    verdict: adjudication?.verdict ?? '',
    ...factsFormValues(facts),
    version,
    seenReport: reportText(reported),
    reason: '',
    kept: await readKeptValues(actor, head.id, keptPrefix.verdict(complication.id)),
  };
  const context = {
    ...place.complication,
    today: today(),
    judgedReport: null,
    reported,
    reportedById,
    judgeId: actor.id,
    isAdjudicated: adjudication !== null,
  };
  const isOwn = isOwnReport(context);
  return {
    head,
    may: {
      change: may.complication && !isVoided,
      adjudicate: may.adjudicate && !isVoided && !isOwn,
    },
    isOwn: may.adjudicate && !isVoided && isOwn,
    complication,
    kept: await readKeptValues(actor, head.id, keptPrefix.complication(complication.id)),
    adjudicationForm: { values, context, draft: await readDraft(actor, 'adjudication', complication.id) },
  };
}

/** A stored report for its form; a void one has none. */
export async function loadComplicationEdit(typedId: string, typedComplicationId: string) {
  const { actor, head } = await openCase(typedId, 'complication.write');
  const { complication, place } = await openComplication(actor, head.id, typedComplicationId);
  if (complication.isVoided) notFound();
  const { reported, treatment, outcome, attribution, resolvedOn } = complication;
  return {
    head,
    complication,
    draft: await readDraft(actor, 'complication', complication.id),
    values: {
      ...factsFormValues(reported),
      treatment,
      outcome,
      attribution,
      resolvedOn,
      kept: await readKeptValues(actor, head.id, keptPrefix.complication(complication.id)),
    },
    context: {
      ...place.complication,
      today: today(),
      judgedReport: complication.adjudication === null ? null : reported,
    },
  };
}

type Opened = Awaited<ReturnType<typeof openCase>>;

async function openComplication(actor: Opened['actor'], caseId: string, typedId: string) {
  const id = idSchema.safeParse(typedId);
  const complication = id.success ? await readComplication(actor, id.data) : null;
  if (!complication || complication.procedureId !== caseId) notFound();
  const place = await readHarmPlace(actor, caseId, complication.id);
  if (!place) notFound();
  return { complication, place };
}
