import type { EndpointRules } from '@/lib/registry/endpoint-definition';
import type { RecordingItem } from '@/lib/registry/rhythm-evidence';
import type { EndCause, ExclusionReason } from '@/lib/registry/time-to-event-causes';
import type { TestCase } from './time-to-event-cases';

/**
 * Time to event written a second time, slowly, from the definitions in docs/methods/endpoint.md: objects, lists and
 * filters, drugs day by day. Nothing of the product's derivation is used, only its words.
 */
export type OracleOutcome =
  | {
      readonly kind: 'analysed';
      readonly time: number;
      readonly status: 'censored' | 'event' | 'competing death';
      readonly cause: EndCause;
      /** [left, right]; right null: not known to have happened. */
      readonly interval: readonly [number, number | null];
    }
  | { readonly kind: 'excluded'; readonly reason: ExclusionReason };

const ORDER: readonly EndCause[] = [
  'recording-af',
  'recording-at-afl',
  'cardioversion',
  'drug',
  'repeat',
  'death',
];
const GRADES = ['contact', 'ecg', '24h', '7d', '14d', 'continuous'];

/** Something that ends freedom: when it happened (is that looked at?), on which day it counts. */
interface Happening {
  readonly cause: EndCause;
  readonly happened: number;
  readonly counts: number;
  readonly exact: boolean;
}

export function oracleOutcome(one: TestCase, rules: EndpointRules): OracleOutcome {
  if (rules.start === 'first-procedure' && one.ordinal > 1)
    return { kind: 'excluded', reason: 'not-first-procedure' };
  if (rules.start === 'last-procedure' && one.next !== null)
    return { kind: 'excluded', reason: 'not-last-procedure' };
  const asKnown = outcomeWithDrugsKnownThrough(one, rules, lastDayDrugsKnown(one));
  if (rules.drugRule === 'ignored') return outcomeWithDrugsKnownThrough(one, rules, Number.POSITIVE_INFINITY);
  const hadAllBeenKnown = outcomeWithDrugsKnownThrough(one, rules, Number.POSITIVE_INFINITY);
  if (JSON.stringify(asKnown) === JSON.stringify(hadAllBeenKnown)) return asKnown;
  if (asKnown.kind === 'excluded') {
    return asKnown.reason === 'repeat-in-blanking' || asKnown.reason === 'death-in-blanking'
      ? asKnown
      : { kind: 'excluded', reason: 'drug-status-unknown-after-blanking' };
  }
  return asKnown.status === 'censored' ? { ...asKnown, cause: 'censored-drug-status-unknown' } : asKnown;
}

const isBlanked = (day: number, rules: EndpointRules): boolean =>
  rules.blankingEndInclusive ? day <= rules.blankingDays : day < rules.blankingDays;

function firstUnblanked(rules: EndpointRules): number {
  let day = 0;
  while (isBlanked(day, rules)) day++;
  return day;
}

/** What is known day by day is as good as a recording of every day by itself. */
const daysOf = ({ day, recordedToDay }: RecordingItem): number[] =>
  Array.from({ length: recordedToDay - day + 1 }, (_, index) => day + index);

/** Nothing that lies beyond the next procedure or death is looked at. */
const withinReach = (one: TestCase, day: number): boolean =>
  day <= (one.next ?? Number.POSITIVE_INFINITY) && day <= (one.death ?? Number.POSITIVE_INFINITY);

function lastDayDrugsKnown(one: TestCase): number {
  const told = [
    ...one.drugReviews,
    ...one.drugs.map((drug) => drug.start),
    ...one.drugs.flatMap((drug) => (drug.stop === null ? [] : [drug.stop])),
  ].filter((day) => day >= 0 && withinReach(one, day));
  return Math.max(-1, ...told);
}

function outcomeWithDrugsKnownThrough(one: TestCase, rules: EndpointRules, known: number): OracleOutcome {
  const u = firstUnblanked(rules);
  // On blanked days no drug counts, so the drugs need not be known there.
  const seen = (day: number): boolean => isBlanked(day, rules) || day <= known;
  const negativeDays = one.recordings
    .filter((recording) => recording.day >= 0 && isQualifyingNegative(recording, rules))
    .flatMap((recording) => (recording.isDayByDay ? daysOf(recording) : [recording.recordedToDay]))
    .filter((day) => !isBlanked(day, rules) && withinReach(one, day) && seen(day));
  const events = happenings(one, rules)
    .filter((happening) => seen(happening.happened))
    .sort((a, b) => a.counts - b.counts || ORDER.indexOf(a.cause) - ORDER.indexOf(b.cause));
  const [event] = events;
  const lastBlanked = Math.max(0, u - 1);
  if (event) {
    const competing = event.cause === 'death' && rules.deathRule === 'competing';
    const before = negativeDays.filter((day) => (competing ? day <= event.counts : day < event.counts));
    const left = Math.max(lastBlanked, ...before);
    // Several recordings may find it on one day; a device among them saw it begin.
    const sameDay = events.filter(
      (other) => other.counts === event.counts && other.cause.startsWith('recording'),
    );
    const isExact =
      event.exact || (event.cause.startsWith('recording') && sameDay.some((other) => other.exact));
    const exactly = [event.counts, event.counts] as const;
    return {
      kind: 'analysed',
      time: event.counts,
      status: competing ? 'competing death' : 'event',
      cause: event.cause,
      interval: competing ? [left, null] : isExact ? exactly : [left, event.counts],
    };
  }
  const repeatStops = one.next !== null && withinReach(one, one.next);
  if (negativeDays.length > 0) {
    const time = Math.max(...negativeDays);
    const stopped = one.death !== null ? 'censored-at-death' : 'censored-last-recording';
    const cause = repeatStops ? 'censored-at-repeat' : stopped;
    return { kind: 'analysed', time, status: 'censored', cause, interval: [time, null] };
  }
  return { kind: 'excluded', reason: reasonWithoutRecordings(one, rules, repeatStops) };
}

function reasonWithoutRecordings(one: TestCase, rules: EndpointRules, repeatStops: boolean): ExclusionReason {
  if (repeatStops && one.next !== null) {
    return isBlanked(one.next, rules) ? 'repeat-in-blanking' : 'no-recording-before-repeat';
  }
  if (one.death !== null)
    return isBlanked(one.death, rules) ? 'death-in-blanking' : 'no-recording-before-death';
  return 'no-recording-after-blanking';
}

function happenings(one: TestCase, rules: EndpointRules): Happening[] {
  const u = firstUnblanked(rules);
  const found: Happening[] = [];
  for (const recording of one.recordings) {
    if (recording.day < 0 || !isPositive(recording, rules)) continue;
    const days = isBlanked(recording.day, rules) ? [u] : [recording.day];
    for (const day of days) {
      if (day > Math.max(recording.day, recording.endDay) || !withinReach(one, day)) continue;
      const cause = recording.rhythm === 'af' ? 'recording-af' : 'recording-at-afl';
      found.push({ cause, happened: day, counts: day, exact: recording.grade === 'continuous' });
    }
  }
  for (const day of rules.cardioversionCounts ? one.cardioversions : []) {
    if (day >= 0 && !isBlanked(day, rules) && withinReach(one, day)) {
      found.push({ cause: 'cardioversion', happened: day, counts: day, exact: true });
    }
  }
  for (let day = u; day <= u + 400; day++) {
    if (withinReach(one, day) && drugFailsOn(one, rules, day)) {
      found.push({ cause: 'drug', happened: day, counts: day, exact: true });
    }
  }
  if (rules.repeatRule === 'failure' && one.next !== null && withinReach(one, one.next)) {
    found.push({ cause: 'repeat', happened: one.next, counts: Math.max(one.next, u), exact: true });
  }
  if (rules.deathRule !== 'censoring' && one.death !== null && deathIsThisCase(one, rules, one.death)) {
    found.push({ cause: 'death', happened: one.death, counts: one.death, exact: true });
  }
  return found;
}

/** A death after the next procedure is the next one's, unless the repeat still waits to count for a first procedure. */
function deathIsThisCase(one: TestCase, rules: EndpointRules, death: number): boolean {
  if (one.next === null || death < one.next) return true;
  return rules.start === 'first-procedure' && rules.repeatRule === 'failure';
}

const takenOn = (one: TestCase, day: number): boolean =>
  one.drugs.some((drug) => drug.start <= day && (drug.stop === null || day <= drug.stop));

function drugFailsOn(one: TestCase, rules: EndpointRules, day: number): boolean {
  if (rules.drugRule === 'must-be-off') return takenOn(one, day);
  if (rules.drugRule === 'resumption-is-failure') {
    return one.drugs.some((drug) => drug.start === day) && !takenOn(one, day - 1);
  }
  return false;
}

function showsCountedRhythm(recording: RecordingItem, rules: EndpointRules): boolean {
  if (rules.symptomaticOnly && !recording.symptomatic) return false;
  if (rules.confirmedTypicalFlutterExempt && recording.rhythm === 'afl-typical-confirmed') return false;
  if (recording.rhythm === 'af') return true;
  return rules.rhythms === 'af-at-afl' && (recording.rhythm === 'at' || recording.rhythm.startsWith('afl'));
}

function isLongEnough(recording: RecordingItem, rules: EndpointRules): boolean | 'unknown' {
  if (rules.wholeTracingCounts && recording.wholeTracing) return true;
  if (rules.comparator === 'at-least' && rules.minimumSeconds === 0) return true;
  if (recording.seconds === null) return 'unknown';
  return rules.comparator === 'at-least'
    ? recording.seconds >= rules.minimumSeconds
    : recording.seconds > rules.minimumSeconds;
}

const isPositive = (recording: RecordingItem, rules: EndpointRules): boolean =>
  showsCountedRhythm(recording, rules) && isLongEnough(recording, rules) === true;

const isQualifyingNegative = (recording: RecordingItem, rules: EndpointRules): boolean =>
  GRADES.indexOf(recording.grade) >= GRADES.indexOf(rules.evidenceForFreedom) &&
  !(showsCountedRhythm(recording, rules) && isLongEnough(recording, rules) !== false);
