import { z } from 'zod';
import { daysBetween, isCalendarDay } from '../calendar-day';
import { ATTRIBUTIONS, OUTCOMES, TREATMENTS } from '../complication-vocabulary';
import { COMPLICATION_TYPES, HARMS, type Harm } from '../complications';
import { labelOf } from '../vocabulary';
import { amendmentShape } from './amendment';
import { BY_RULE, harmsEntry, harmTicks, SEVERITY_CHOICES } from './complication-entries';
import { choiceEntry, dayEntry, requiredChoiceEntry, requiredDayEntry } from './entries';
import { COMPLICATION_LABELS as LABELS } from './field-labels';
import { keptEntries } from './kept-values';

const shape = {
  type: requiredChoiceEntry(LABELS.type, COMPLICATION_TYPES),
  onsetOn: requiredDayEntry(LABELS.onsetOn),
  harms: harmsEntry,
  severity: requiredChoiceEntry(LABELS.severity, SEVERITY_CHOICES),
  treatment: choiceEntry(LABELS.treatment, TREATMENTS),
  outcome: choiceEntry(LABELS.outcome, OUTCOMES),
  attribution: choiceEntry(LABELS.attribution, ATTRIBUTIONS),
  resolvedOn: dayEntry(LABELS.resolvedOn),
  kept: keptEntries,
};

interface ReportFields {
  readonly type: string;
  readonly onsetOn: string;
  readonly harms: readonly Harm[];
  readonly treatment: string | null;
  readonly outcome: string | null;
  readonly resolvedOn: string | null;
}

/** Combinations that contradict each other. A field that could not be read has its own message and is left alone here. */
function checkReport(report: ReportFields, context: z.core.$RefinementCtx): void {
  const refuse = (path: string, message: string) =>
    context.addIssue({ code: 'custom', path: path.split('.'), message, continue: true });
  checkEnd(report, refuse);
  checkOutcome(report, refuse);
  const treatment = TREATMENTS.find(({ code }) => code === report.treatment);
  if (treatment?.impliesHarm && !report.harms.includes(treatment.impliesHarm)) {
    const harm = labelOf(HARMS, treatment.impliesHarm);
    refuse(
      `harms.${treatment.impliesHarm}`,
      `${LABELS.harms}: the treatment “${treatment.label}” is “${harm}” by definition. Tick it, or mend the treatment.`,
    );
  }
}

type Refuse = (path: string, message: string) => void;

function checkEnd({ onsetOn, resolvedOn, outcome, harms }: ReportFields, refuse: Refuse): void {
  if (typeof resolvedOn !== 'string' || !isCalendarDay(resolvedOn) || !isCalendarDay(onsetOn ?? '')) return;
  const lastedDays = isCalendarDay(onsetOn) ? daysBetween(onsetOn, resolvedOn) : 0;
  if (lastedDays < 0) {
    refuse(
      'resolvedOn',
      `${LABELS.resolvedOn}: ${resolvedOn} is before the onset, ${onsetOn}. Mend one of the two.`,
    );
  } else if (harms.includes('over-30-days') && lastedDays <= 30) {
    refuse(
      'harms.over-30-days',
      `${LABELS.harms}: “${labelOf(HARMS, 'over-30-days')}” is ticked, but from ${onsetOn} to ${resolvedOn} are ${lastedDays} days. Mend one of them.`,
    );
  }
  if (outcome === 'not-recovered' || outcome === 'lasting') {
    refuse(
      'outcome',
      `${LABELS.outcome}: “${labelOf(OUTCOMES, outcome)}” contradicts the day on which it resolved, ${resolvedOn}. Mend one of the two.`,
    );
  }
}

function checkOutcome({ type, outcome, harms }: ReportFields, refuse: Refuse): void {
  if (typeof outcome !== 'string') return;
  const words = labelOf(OUTCOMES, outcome);
  const isDeath = type === 'death' || harms.includes('death');
  if (outcome === 'fatal' && !isDeath) {
    refuse(
      'harms.death',
      `${LABELS.harms}: the outcome is “${words}”. Tick “${labelOf(HARMS, 'death')}” too, or mend the outcome.`,
    );
  }
  if (outcome !== 'fatal' && isDeath) {
    refuse('outcome', `${LABELS.outcome}: “${words}” contradicts a death. Choose “Fatal”, or mend the harm.`);
  }
  if (outcome === 'recovered' && harms.includes('permanent-injury')) {
    refuse(
      'outcome',
      `${LABELS.outcome}: “${words}” contradicts “${labelOf(HARMS, 'permanent-injury')}”. Choose “Recovered in part” or “Lasting”, or mend the harm.`,
    );
  }
}

export const complicationFormSchema = z.strictObject(shape).superRefine(checkReport);
export const complicationAmendmentSchema = z
  .strictObject({ ...shape, ...amendmentShape })
  .superRefine(checkReport);

export type ComplicationFormInput = z.input<typeof complicationFormSchema>;
export type ComplicationForm = z.output<typeof complicationFormSchema>;
export type ComplicationAmendmentInput = z.input<typeof complicationAmendmentSchema>;
export type ComplicationAmendment = z.output<typeof complicationAmendmentSchema>;

export const emptyComplicationForm = {
  type: '',
  onsetOn: '',
  harms: harmTicks(),
  severity: BY_RULE,
  treatment: '',
  outcome: '',
  attribution: '',
  resolvedOn: '',
  kept: [],
} satisfies ComplicationFormInput;
