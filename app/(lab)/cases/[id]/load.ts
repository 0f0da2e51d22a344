import 'server-only';
import { notFound } from 'next/navigation';
import { z } from 'zod';
import { requireActor } from '@/app/require-actor';
import { isAllowed, type Permission } from '@/lib/access/permissions';
import { readCaseStanding } from '@/lib/records/case-states/read';
import { readCaseAt } from '@/lib/records/cases/earlier';
import { readCaseEvidence } from '@/lib/records/cases/evidence';
import { readFollowUp, readVisitForEditing } from '@/lib/records/cases/follow-up';
import { readFollowedCase } from '@/lib/records/cases/followed';
import { readHistory } from '@/lib/records/cases/history';
import { type CaseHead, readCase } from '@/lib/records/cases/read';
import { readScoreFacts } from '@/lib/records/cases/score-facts';
import { readDeviceSpan } from '@/lib/records/device-days/read';
import { readDraft } from '@/lib/records/drafts/read';
import { readOperators } from '@/lib/records/labs/operators';
import { readProcedurePlace } from '@/lib/records/procedures/context';
import { readVisitPlace } from '@/lib/records/visits/context';
import { calendarDay, daysBetween } from '@/lib/registry/calendar-day';
import { earlyRecurrenceOf } from '@/lib/registry/early-recurrence';
import { UNSCHEDULED } from '@/lib/registry/forms/visit-form';
import { safetyClockOf } from '@/lib/registry/safety-clock';
import { computeScores } from '@/lib/registry/scores/list';
import { visitSlotsOf } from '@/lib/registry/visit-slots';
import { watchedSlotsOf } from '@/lib/registry/watched-slots';
import { slotStatesOf } from '@/lib/registry/worklist';
import { todayText } from '@/lib/runtime/clock';

const idSchema = z.uuid();
const today = () => calendarDay(todayText());

/** A case for one of its pages: its head with the state of its safety checks, and what this person may do with it. */
export async function openCase(typedId: string, permission: Permission) {
  const actor = await requireActor(permission);
  const id = idSchema.safeParse(typedId);
  const [found, standing, place] = id.success
    ? await Promise.all([
        readCase(actor, id.data),
        readCaseStanding(actor, id.data),
        readVisitPlace(actor, id.data),
      ])
    : [null, null, null];
  if (!found || !standing || !place) notFound();
  const head = { ...found, safety: safetyOf(found, place) };
  const may = {
    procedure: isAllowed(actor.role, 'procedure.write'),
    visit: isAllowed(actor.role, 'visit.write'),
    patient: isAllowed(actor.role, 'patient.write'),
    complication: isAllowed(actor.role, 'complication.write'),
    adjudicate: isAllowed(actor.role, 'complication.adjudicate'),
    sign: isAllowed(actor.role, 'case.sign'),
  };
  return { actor, head, may, standing };
}

/** A case's head, its values as stored, and what this person may do with it. */
export async function loadCase(typedId: string) {
  const { actor, head, may, standing } = await openCase(typedId, 'cases.read');
  const [operators, facts] = await Promise.all([
    readOperators(actor),
    readScoreFacts(actor, head.id, today()),
  ]);
  if (!facts) notFound();
  return { head, may, standing, operators, scores: computeScores(facts) };
}

/** What happened since, and the plan with the state of each slot today. */
export async function loadFollowUp(typedId: string) {
  const { actor, head, may, standing } = await openCase(typedId, 'cases.read');
  const [followUp, followed, known, device] = await Promise.all([
    readFollowUp(actor, head.patientId, head.id),
    readFollowedCase(actor, head.id),
    readCaseEvidence(actor, head.id),
    readDeviceSpan(actor, head.patientId),
  ]);
  if (!followed) notFound();
  if (!known) throw new Error('a case without its analysis row');
  const { performedOn, plan } = followed;
  return {
    head,
    may,
    standing,
    followUp,
    slots: visitSlotsOf(performedOn, plan),
    states: slotStatesOf(followed, today()),
    early: earlyRecurrenceOf(known.evidence, { ...known, daysSince: daysBetween(performedOn, today()) }),
    watched: watchedSlotsOf({ ...known, performedOn, plan }, today()),
    device,
  };
}

/** The trail of the case's patient in words. */
export async function loadHistory(typedId: string) {
  const { actor, head, may, standing } = await openCase(typedId, 'cases.read');
  return { head, may, standing, entries: await readHistory(actor, head.patientId) };
}

const seqSchema = z
  .string()
  .regex(/^[1-9]\d{0,17}$/)
  .transform(BigInt);

/** The record of the case as it was right after one change. */
export async function loadEarlier(typedId: string, typedSeq: string) {
  const { actor, head, may, standing } = await openCase(typedId, 'cases.read');
  const seq = seqSchema.safeParse(typedSeq);
  const earlier = seq.success ? await readCaseAt(actor, head.id, seq.data) : null;
  if (!earlier) notFound();
  return { head, may, standing, earlier };
}

/** What the form of a procedure that is stored needs. */
export async function loadProcedureEdit(typedId: string) {
  const { actor, head } = await openCase(typedId, 'procedure.write');
  const [place, operators, draft] = await Promise.all([
    readProcedurePlace(actor, head.patientId, head.id),
    readOperators(actor),
    readDraft(actor, 'procedure', head.id),
  ]);
  if (!place) notFound();
  return { head, operators, draft, context: { ...place.context, today: today() } };
}

/** What the form of a new visit needs; the slot asked for, else the first that is due. */
export async function loadNewVisit(typedId: string, typedSlot: string | string[] | undefined) {
  const { actor, head } = await openCase(typedId, 'visit.write');
  const [place, followed] = await Promise.all([
    readVisitPlace(actor, head.id),
    readFollowedCase(actor, head.id),
  ]);
  if (!place || !followed) notFound();
  const choices = visitSlotsOf(followed.performedOn, followed.plan);
  const asked = choices.find(({ code }) => code === typedSlot)?.code;
  const due = slotStatesOf(followed, today()).find(
    ({ state, awaits }) => awaits === 'contact' && (state === 'in-window' || state === 'overdue'),
  );
  return {
    head,
    draft: await readDraft(actor, 'visit-new', head.id),
    choices,
    proposedSlot: asked ?? due?.slot.code ?? UNSCHEDULED,
    context: { ...place.context, today: today() },
  };
}

/** A stored visit for its form. */
export async function loadVisitEdit(typedId: string, typedVisitId: string) {
  const { actor, head } = await openCase(typedId, 'visit.write');
  const visitId = idSchema.safeParse(typedVisitId);
  const visit = visitId.success ? await readVisitForEditing(actor, visitId.data) : null;
  if (!visit || visit.procedureId !== head.id) notFound();
  const place = await readVisitPlace(actor, head.id, visit.id);
  if (!place) notFound();
  return {
    head,
    visit,
    draft: await readDraft(actor, 'visit', visit.id),
    choices: visitSlotsOf(place.context.performedOn, place.context.plan, String(visit.values.slot ?? '')),
    context: { ...place.context, today: today() },
  };
}

type Place = NonNullable<Awaited<ReturnType<typeof readVisitPlace>>>;

const day = (text: string | null) => (text === null ? null : calendarDay(text));

function safetyOf(head: CaseHead, { context }: Place) {
  const clocked = {
    performedOn: context.performedOn,
    plan: context.plan,
    visits: context.otherVisits,
    diedOn: context.diedOn,
    consentWithdrawnOn: day(head.consentWithdrawnOn),
    transferredOn: day(head.transferredOn),
    nextPerformedOn: context.nextPerformedOn,
  };
  return safetyClockOf(clocked, today());
}
