import { z } from 'zod';
import type { ComplicationFacts } from '../complication-standing';
import { VERDICTS } from '../complication-vocabulary';
import { COMPLICATION_TYPES, HARMS, SEVERITIES } from '../complications';
import { type Finding, refusal } from '../findings';
import { AMENDMENT_REASONS, labelOf } from '../vocabulary';
import { amendmentShape } from './amendment';
import { type ComplicationContext, checkFactsAgainstCase } from './complication-checks';
import { chosenSeverity, harmsEntry, SEVERITY_CHOICES } from './complication-entries';
import { choiceEntry, dayEntry, requiredChoiceEntry } from './entries';
import { ADJUDICATION_LABELS as LABELS } from './field-labels';
import { keptEntries } from './kept-values';

const UNREADABLE = 'The report could not be read. Reload the page.';

const shape = {
  verdict: requiredChoiceEntry(LABELS.verdict, VERDICTS),
  /** These are read for “reclassified” only: a confirmed complication keeps what was reported, a refuted one has none. */
  type: choiceEntry(LABELS.type, COMPLICATION_TYPES),
  onsetOn: dayEntry(LABELS.onsetOn),
  harms: harmsEntry,
  severity: requiredChoiceEntry(LABELS.severity, SEVERITY_CHOICES),
  version: amendmentShape.version,
  /** The report as this person read it (`reportText`): a verdict on an older report is a conflict. */
  seenReport: z.string({ error: UNREADABLE }).max(400, { error: UNREADABLE }),
  /** Asked for when an earlier verdict is changed. */
  reason: choiceEntry('Reason for the change', AMENDMENT_REASONS),
  kept: keptEntries,
};

export const adjudicationSchema = z.strictObject(shape).superRefine((judged, context) => {
  if (judged.verdict !== 'reclassified') return;
  for (const field of ['type', 'onsetOn'] as const) {
    if (judged[field] !== null) continue;
    const message = `${LABELS[field]} is missing. Give it, or choose another verdict.`;
    context.addIssue({ code: 'custom', path: [field], message, continue: true });
  }
});

export type AdjudicationInput = z.input<typeof adjudicationSchema>;
export type Adjudication = z.output<typeof adjudicationSchema>;

export interface AdjudicationContext extends ComplicationContext {
  readonly reported: ComplicationFacts;
  /** Who reported it, and who is about to judge; null for what a program brought. */
  readonly reportedById: string | null;
  readonly judgeId: string;
  readonly isAdjudicated: boolean;
}

/** A report as one line of codes, to tell whether it changed since it was read. */
export function reportText({ type, onsetOn, severity, harms }: ComplicationFacts): string {
  return [
    type,
    onsetOn,
    severity,
    ...HARMS.map(({ code }) => code).filter((code) => harms.includes(code)),
  ].join(' ');
}

/** Such a line in words. */
export function reportWords(text: string): string {
  const [type = '', onsetOn = '', severity = '', ...harms] = text.split(' ');
  const words = [labelOf(COMPLICATION_TYPES, type), onsetOn, labelOf(SEVERITIES, severity).toLowerCase()];
  return [...words, ...harms.map((harm) => labelOf(HARMS, harm).toLowerCase())].join(', ');
}

/** Said before the form, and again by the write: the two states come from two people. */
export const SAME_PERSON =
  'You reported this complication, so somebody else has to adjudicate it: the two states come from two people.';

/** True when this person may not judge because the report is their own. */
export const isOwnReport = ({
  reportedById,
  judgeId,
}: Pick<AdjudicationContext, 'reportedById' | 'judgeId'>) =>
  reportedById !== null && reportedById === judgeId;

/** What the second person found, as facts; null when the complication is refuted. Fields of another verdict are left aside. */
export function judgedFacts(judged: Adjudication, reported: ComplicationFacts): ComplicationFacts | null {
  const { verdict, type, onsetOn, harms, severity } = judged;
  if (verdict === 'refuted') return null;
  if (verdict === 'confirmed' || type === null || onsetOn === null) return reported;
  return { type, onsetOn, harms, severity: chosenSeverity(severity, type, harms) };
}

/** What speaks against a verdict once the report and its case are known. */
export function checkAdjudication(judged: Adjudication, context: AdjudicationContext): Finding[] {
  const found: Finding[] = [];
  if (isOwnReport(context)) found.push(refusal('verdict', SAME_PERSON));
  if (context.isAdjudicated && judged.reason === null) {
    found.push(
      refusal('reason', 'Reason for the change is missing: an earlier verdict is being changed. Choose one.'),
    );
  }
  const { verdict, type, onsetOn, harms, severity } = judged;
  if (verdict !== 'reclassified' || type === null || onsetOn === null) return found;
  const facts = judgedFacts(judged, context.reported);
  if (facts !== null && reportText(facts) === reportText(context.reported)) {
    found.push(
      refusal(
        'verdict',
        `${LABELS.verdict}: nothing below differs from the report. Choose “Confirmed”, or change what differs.`,
      ),
    );
  }
  return [...found, ...checkFactsAgainstCase({ type, onsetOn, harms, severity }, context)];
}
