import { type CalendarDay, daysBetween } from '../calendar-day';
import { type ComplicationFacts, isLateOnset, LAST_COUNTED_DAY } from '../complication-standing';
import { complicationType, HARMS, isUsualOnset, severityOf } from '../complications';
import { type Finding, refusal, warning } from '../findings';
import { labelOf } from '../vocabulary';
import { chosenSeverity } from './complication-entries';
import type { ComplicationForm } from './complication-form';
import { COMPLICATION_LABELS as LABELS } from './field-labels';

export interface ComplicationContext {
  readonly performedOn: CalendarDay;
  readonly today: CalendarDay;
  readonly diedOn: CalendarDay | null;
  readonly nextPerformedOn: CalendarDay | null;
  /** Other complications of this case that count, without the one that is being changed. */
  readonly others: readonly { readonly type: string; readonly onsetOn: CalendarDay }[];
  /** What was reported when it was adjudicated: it stays as it was judged. Null while nobody has judged it. */
  readonly judgedReport: ComplicationFacts | null;
}

type Facts = Pick<ComplicationForm, 'type' | 'onsetOn' | 'harms' | 'severity'>;

/** What speaks against a report once its case and today's date are known: refusals and warnings, in the order of the form. */
export function checkComplicationAgainstCase(
  report: ComplicationForm,
  context: ComplicationContext,
): Finding[] {
  return [
    ...checkJudged(report, context.judgedReport),
    ...checkFactsAgainstCase(report, context),
    ...warnTwice(report, context),
    ...checkResolved(report, context),
  ];
}

/** A day on which nothing of the kind can have happened. */
export function impossibleDay(
  field: string,
  label: string,
  day: CalendarDay,
  { today, diedOn }: { readonly today: CalendarDay; readonly diedOn: CalendarDay | null },
): Finding[] {
  const found: Finding[] = [];
  if (day > today) {
    found.push(refusal(field, `${label}: ${day} lies in the future. Give a day up to today, ${today}.`));
  }
  if (diedOn !== null && day > diedOn) {
    found.push(refusal(field, `${label}: ${day} is after the death on ${diedOn}. Mend one of the two.`));
  }
  return found;
}

/** Type, onset, harms and severity against the case: of the report and of what the second person found alike. */
export function checkFactsAgainstCase(facts: Facts, context: ComplicationContext): Finding[] {
  const { type, onsetOn, harms, severity } = facts;
  const { performedOn, diedOn, nextPerformedOn } = context;
  const found = impossibleDay('onsetOn', LABELS.onsetOn, onsetOn, context);
  if (onsetOn < performedOn) {
    found.push(
      refusal(
        'onsetOn',
        `${LABELS.onsetOn}: ${onsetOn} is before the procedure on ${performedOn}. Check the day, or report it at the earlier case.`,
      ),
    );
  }
  if (type === 'death' && diedOn !== null && onsetOn < diedOn) {
    found.push(
      refusal(
        'onsetOn',
        `${LABELS.onsetOn}: this complication is the death itself, which is recorded on ${diedOn}. Give that day, or mend the day of death at the patient.`,
      ),
    );
  }
  if ((type === 'death' || harms.includes('death')) && diedOn === null) {
    found.push(
      warning(
        type === 'death' ? 'type' : 'harms.death',
        'The patient’s record has no day of death. Enter it at the patient, so that nobody is asked for any more.',
      ),
    );
  }
  if (nextPerformedOn !== null && onsetOn >= nextPerformedOn) {
    found.push(
      warning(
        'onsetOn',
        `${LABELS.onsetOn}: ${onsetOn} is not before the next procedure on ${nextPerformedOn}. Report it at that case, or keep it here if this procedure caused it.`,
      ),
    );
  }
  return [...found, ...warnWindow(facts, context), ...warnDecided({ type, harms, severity })];
}

function warnWindow({ type, onsetOn }: Facts, { performedOn }: ComplicationContext): Finding[] {
  const days = daysBetween(performedOn, onsetOn);
  const entry = complicationType(type);
  if (!entry || days < 0 || isUsualOnset(type, days)) return [];
  const { from, to } = entry.usualWindowDays;
  if (entry.isFollowedLate && isLateOnset(performedOn, onsetOn)) {
    return [
      warning(
        'onsetOn',
        `${LABELS.onsetOn}: day ${days} is after day ${LAST_COUNTED_DAY}. It is recorded and marked late, and stays outside the windows of the rates.`,
      ),
    ];
  }
  return [
    warning(
      'onsetOn',
      `${LABELS.onsetOn}: day ${days} is outside the days in which “${entry.label}” usually shows (day ${from} to ${to}). Check day and complication, or keep it.`,
    ),
  ];
}

function warnDecided({ type, harms, severity }: Omit<Facts, 'onsetOn'>): Finding[] {
  const rule = severityOf(type, harms);
  const decided = chosenSeverity(severity, type, harms);
  if (decided === rule.severity) return [];
  return [
    warning(
      'severity',
      `${LABELS.severity}: you decided ${decided}. By the rule: ${rule.reason} Both stay visible; check what it led to, or keep it.`,
    ),
  ];
}

/** Once judged, the reported state stays what the second person saw. */
function checkJudged(report: ComplicationForm, judged: ComplicationFacts | null): Finding[] {
  if (judged === null) return [];
  const mend =
    'was adjudicated as reported and stays so. Put it back; whoever adjudicates can reclassify it.';
  const found: Finding[] = [];
  if (report.type !== judged.type) {
    const label = complicationType(judged.type)?.label ?? judged.type;
    found.push(refusal('type', `${LABELS.type}: “${label}” ${mend}`));
  }
  if (report.onsetOn !== judged.onsetOn) {
    found.push(refusal('onsetOn', `${LABELS.onsetOn}: ${judged.onsetOn} ${mend}`));
  }
  for (const { code, label } of HARMS) {
    if (report.harms.includes(code) !== judged.harms.includes(code)) {
      found.push(refusal(`harms.${code}`, `${LABELS.harms}: “${label}” ${mend}`));
    }
  }
  if (chosenSeverity(report.severity, judged.type, judged.harms) !== judged.severity) {
    found.push(refusal('severity', `${LABELS.severity}: ${judged.severity} ${mend}`));
  }
  return found;
}

function warnTwice({ type, onsetOn }: ComplicationForm, { others }: ComplicationContext): Finding[] {
  if (!others.some((other) => other.type === type && other.onsetOn === onsetOn)) return [];
  return [
    warning(
      'type',
      `${LABELS.type}: “${complicationType(type)?.label ?? type}” of ${onsetOn} is already reported. Keep this only if there were two.`,
    ),
  ];
}

function checkResolved(report: ComplicationForm, context: ComplicationContext): Finding[] {
  const { type, onsetOn, harms, outcome, resolvedOn } = report;
  if (resolvedOn === null) {
    if (outcome !== 'recovered' && outcome !== 'recovered-in-part') return [];
    return [
      warning(
        'resolvedOn',
        `${LABELS.resolvedOn} is not given although it is over. Give the day if it is known, or keep it.`,
      ),
    ];
  }
  const found = impossibleDay('resolvedOn', LABELS.resolvedOn, resolvedOn, context);
  const lastedDays = daysBetween(onsetOn, resolvedOn);
  const withTick = severityOf(type, [...harms, 'over-30-days']).severity;
  if (lastedDays > 30 && withTick !== severityOf(type, harms).severity) {
    found.push(
      warning(
        'harms.over-30-days',
        `${LABELS.harms}: from ${onsetOn} to ${resolvedOn} are ${lastedDays} days. Tick “${labelOf(HARMS, 'over-30-days')}”, which makes it ${withTick}, or keep it.`,
      ),
    );
  }
  return found;
}
