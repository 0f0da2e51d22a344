import 'server-only';
import { randomUUID } from 'node:crypto';
import type { ComplicationFacts } from '../../registry/complication-standing';
import {
  type Adjudication,
  judgedFacts,
  reportText,
  SAME_PERSON,
} from '../../registry/forms/adjudication-form';
import { chosenSeverity } from '../../registry/forms/complication-entries';
import type { ComplicationAmendment, ComplicationForm } from '../../registry/forms/complication-form';
import { CHANGED_MEANWHILE, type VoidForm } from '../../registry/forms/void-form';
import { ApplicationError, StaleEdit } from '../../runtime/application-error';
import { now } from '../../runtime/clock';
import type { Actor } from '../actor';
import { dateFromDay, dateFromDayOrNull } from '../day-edge';
import { keptPrefix } from '../kept-values/read';
import { type KeptValueEntry, keepValues } from '../kept-values/write';
import { type FormRequest, type OpenWrite, record } from '../record';
import { reportValuesByPath, verdictValuesByPath } from './form-values';
import { reportedFacts } from './read';

export type WrittenComplication = { readonly id: string; readonly version: number };

export interface ComplicationPlace {
  readonly patientId: string;
  readonly procedureId: string;
  readonly performedOn: string;
}

interface ComplicationKey {
  readonly id: string;
  readonly patientId: string;
}

/** Reports a complication. The reporter is the person who acts; what a program brings has none. */
export function reportComplication(
  actor: Actor,
  place: ComplicationPlace,
  form: ComplicationForm,
  request: FormRequest,
  kept: readonly KeptValueEntry[] = [],
): Promise<WrittenComplication> {
  const { patientId, procedureId, performedOn } = place;
  const order = { action: 'complication.report', reason: 'entered', patientId, request };
  return record<WrittenComplication>(actor, order, async (open) => {
    const { tx, labId, note } = open;
    const id = randomUUID();
    const row = await tx.complication.create({
      data: {
        labId,
        id,
        procedureId,
        procedurePerformedOn: dateFromDay(performedOn),
        ...columnsOf(form),
        adjudicatedHarms: [],
        reportedById: personOf(actor),
      },
    });
    note({ entity: 'complications', entityId: id, patientId, before: null, after: row });
    await keepValues(open, { id: procedureId, patientId }, kept, keptPrefix.complication(id));
    return { id, version: row.version };
  });
}

/**
 * Changes a report. Whoever changes what is judged (type, onset, harms, severity) becomes its reporter, so that nobody
 * adjudicates their own words; once adjudicated, only the course may change. Throws StaleEdit with what is stored.
 */
export function amendComplication(
  actor: Actor,
  { id, patientId }: ComplicationKey,
  form: ComplicationAmendment,
  request: FormRequest,
  kept: readonly KeptValueEntry[] = [],
): Promise<WrittenComplication> {
  const order = { action: 'complication.amend', reason: form.reason, patientId, request };
  return record<WrittenComplication>(actor, order, async (open) => {
    const { tx, labId, note } = open;
    const before = await openComplication(open, id);
    if (before.version !== form.version) throw new StaleEdit(before.version, reportValuesByPath(before));
    const isOther = reportText(factsOf(form)) !== reportText(reportedFacts(before));
    if (isOther && before.adjudicatedAt !== null) {
      throw refusedAt(
        'type',
        'This complication was adjudicated meanwhile: what was reported stays as it was judged. Reload the page; whoever adjudicates can reclassify it.',
      );
    }
    const after = await tx.complication.update({
      where: { labId_id: { labId, id } },
      data: {
        ...columnsOf(form),
        ...(isOther ? { reportedById: personOf(actor) } : {}),
        version: { increment: 1 },
      },
    });
    note({ entity: 'complications', entityId: id, patientId, before, after });
    await keepValues(open, { id: before.procedureId, patientId }, kept, keptPrefix.complication(id));
    return { id, version: after.version };
  });
}

/** Stores what a second person found beside the report, which stays. Throws StaleEdit with the verdict that is stored. */
export function adjudicateComplication(
  actor: Actor,
  { id, patientId }: ComplicationKey,
  form: Adjudication,
  request: FormRequest,
  kept: readonly KeptValueEntry[] = [],
): Promise<WrittenComplication> {
  const reason = form.reason ?? 'adjudicated';
  const order = { action: 'complication.adjudicate', reason, patientId, request };
  return record<WrittenComplication>(actor, order, async (open) => {
    const { tx, labId, note } = open;
    const judge = personOf(actor);
    const before = await openComplication(open, id);
    if (before.version !== form.version || form.seenReport !== reportText(reportedFacts(before))) {
      throw new StaleEdit(before.version, verdictValuesByPath(before));
    }
    if (judge === null) throw refusedAt('verdict', 'A program cannot adjudicate. Sign in to do it.');
    if (before.reportedById === judge) throw refusedAt('verdict', SAME_PERSON);
    const facts = judgedFacts(form, reportedFacts(before));
    const after = await tx.complication.update({
      where: { labId_id: { labId, id } },
      data: {
        adjudicatedVerdict: form.verdict,
        adjudicatedType: facts?.type ?? null,
        adjudicatedSeverity: facts?.severity ?? null,
        adjudicatedHarms: [...(facts?.harms ?? [])],
        adjudicatedOnsetOn: dateFromDayOrNull(facts?.onsetOn),
        adjudicatedById: judge,
        adjudicatedAt: now(),
        version: { increment: 1 },
      },
    });
    note({ entity: 'complications', entityId: id, patientId, before, after });
    await keepValues(open, { id: before.procedureId, patientId }, kept, keptPrefix.verdict(id));
    return { id, version: after.version };
  });
}

/** Marks an entry as one that should never have been made: it counts nowhere and stays readable. Not for what was adjudicated. */
export function voidComplication(
  actor: Actor,
  { id, patientId }: ComplicationKey,
  form: VoidForm,
  request: FormRequest,
): Promise<WrittenComplication> {
  const order = { action: 'complication.void', reason: form.reason, patientId, request };
  return record<WrittenComplication>(actor, order, async (open) => {
    const { tx, labId, note } = open;
    const before = await openComplication(open, id);
    if (before.version !== form.version) throw refusedAt('reason', CHANGED_MEANWHILE);
    if (before.adjudicatedAt !== null) {
      throw refusedAt('reason', 'This complication was adjudicated. Refuting it is the way to take it out.');
    }
    const after = await tx.complication.update({
      where: { labId_id: { labId, id } },
      data: {
        voidedReason: form.reason,
        voidedById: personOf(actor),
        voidedAt: now(),
        version: { increment: 1 },
      },
    });
    note({ entity: 'complications', entityId: id, patientId, before, after });
    return { id, version: after.version };
  });
}

async function openComplication({ tx, labId }: OpenWrite, id: string) {
  const row = await tx.complication.findUnique({ where: { labId_id: { labId, id } } });
  if (!row) throw new ApplicationError('not-found', 'There is no such complication in this lab.');
  if (row.voidedAt !== null) {
    throw new ApplicationError(
      'invalid',
      'This entry is void and stays as it is. Report the complication anew.',
    );
  }
  return row;
}

const personOf = (actor: Actor): string | null => (actor.kind === 'person' ? actor.id : null);

const refusedAt = (field: string, message: string) =>
  new ApplicationError('invalid', message, [{ field, message }]);

function factsOf({ type, onsetOn, harms, severity }: ComplicationForm): ComplicationFacts {
  return { type, onsetOn, harms, severity: chosenSeverity(severity, type, harms) };
}

function columnsOf(form: ComplicationForm) {
  const { type, onsetOn, harms, severity } = factsOf(form);
  return {
    type,
    severity,
    harms: [...harms],
    onsetOn: dateFromDay(onsetOn),
    treatment: form.treatment,
    outcome: form.outcome,
    attribution: form.attribution,
    resolvedOn: dateFromDayOrNull(form.resolvedOn),
  };
}
