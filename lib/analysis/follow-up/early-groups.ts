import { type CalendarDay, toEpochDay } from '../../registry/calendar-day';
import type { Cohort } from '../../registry/cohort';
import { bandOf, EARLY_DAYS, type EarlyRecurrence, earlyRecurrenceOf } from '../../registry/early-recurrence';
import type { EndpointRules } from '../../registry/endpoint-rules';
import { evidenceGradeOf, type WindowGrade } from '../../registry/evidence-grade';
import { type DerivedOutcomes, deriveOutcomes } from '../../registry/time-to-event';

/** Every case that the endpoint starts at, with what is known of its first 90 days. */
export interface EarlyGroups {
  readonly cohort: Cohort;
  readonly outcomes: DerivedOutcomes;
  /** Index into the cohort's columns, ascending. */
  readonly caseIndex: readonly number[];
  readonly early: readonly EarlyRecurrence[];
  /** How well days 1 to 90 were watched. */
  readonly grades: readonly WindowGrade[];
}

/** A set of cases that a number counts, as an address names it. */
export type EarlySet = string;

/**
 * The rules under which later freedom is told: those of the definition, with the 90 days blanked in which early recurrence
 * is looked for (a shorter blanking would count the same episode on both sides), and with death censoring.
 */
export function laterRules(rules: EndpointRules): EndpointRules {
  return { ...rules, blankingDays: EARLY_DAYS, blankingEndInclusive: true, deathRule: 'censoring' };
}

export function groupByEarly(cohort: Cohort, rules: EndpointRules, today: CalendarDay): EarlyGroups {
  const outcomes = deriveOutcomes(cohort, laterRules(rules));
  const { 'not-first-procedure': notFirst, 'not-last-procedure': notLast } = outcomes.excluded;
  const skipped = new Set([...notFirst, ...notLast]);
  const caseIndex = Array.from({ length: cohort.size }, (_, index) => index).filter(
    (index) => !skipped.has(index),
  );
  const todayDay = toEpochDay(today);
  const evidenceAt = (index: number) =>
    cohort.evidence.subarray(cohort.evidenceStart[index], cohort.evidenceStart[index + 1]);
  return {
    cohort,
    outcomes,
    caseIndex,
    early: caseIndex.map((index) =>
      earlyRecurrenceOf(evidenceAt(index), {
        daysSince: todayDay - cohort.performedOnDay[index],
        daysToNext: orNull(cohort.daysToNext[index]),
        daysToDeath: orNull(cohort.daysToDeath[index]),
      }),
    ),
    grades: caseIndex.map((index) => evidenceGradeOf(evidenceAt(index), { fromDay: 1, toDay: EARLY_DAYS })),
  };
}

const orNull = (value: number): number | null => (value < 0 ? null : value);

/** A case whose 90 days are over and were looked at, or in whom it was found: the denominator. */
const isEvaluable = (early: EarlyRecurrence): boolean =>
  early.kind === 'none' || (early.kind === 'found' && early.isComplete);

/** Whether a case belongs to a set; undefined for a set that nobody defined. */
const MEMBERSHIP: Readonly<Record<string, (early: EarlyRecurrence, grade: WindowGrade) => boolean>> = {
  all: () => true,
  evaluable: isEvaluable,
  found: (early) => isEvaluable(early) && early.kind === 'found',
  none: (early) => early.kind === 'none',
  'first-0-30': (early) => isInBand(early, 'firstDay', '0-30'),
  'first-31-60': (early) => isInBand(early, 'firstDay', '31-60'),
  'first-61-90': (early) => isInBand(early, 'firstDay', '61-90'),
  'last-0-30': (early) => isInBand(early, 'lastDay', '0-30'),
  'last-31-60': (early) => isInBand(early, 'lastDay', '31-60'),
  'last-61-90': (early) => isInBand(early, 'lastDay', '61-90'),
  'not-yet': (early) => early.kind === 'not-yet' || (early.kind === 'found' && !early.isComplete),
  'not-watched': (early) => early.kind === 'not-watched',
  'cut-short': (early) => early.kind === 'cut-short',
  'watched-ecg': (early, grade) => isEvaluable(early) && grade === 'ecg',
  'watched-24h': (early, grade) => isEvaluable(early) && grade === '24h',
  'watched-7d': (early, grade) => isEvaluable(early) && grade === '7d',
  'watched-14d': (early, grade) => isEvaluable(early) && grade === '14d',
  'watched-continuous': (early, grade) => isEvaluable(early) && grade === 'continuous',
};

function isInBand(early: EarlyRecurrence, which: 'firstDay' | 'lastDay', band: string): boolean {
  return early.kind === 'found' && early.isComplete && bandOf(early[which]) === band;
}

/** Places (in `caseIndex`) of the cases of a set; undefined for a set that nobody defined. */
export function membersOf({ early, grades }: EarlyGroups, set: EarlySet): number[] | undefined {
  const isMember = Object.hasOwn(MEMBERSHIP, set) ? MEMBERSHIP[set] : undefined;
  if (!isMember) return undefined;
  return early.flatMap((one, place) => (isMember(one, grades[place]) ? [place] : []));
}
