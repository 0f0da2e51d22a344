import { expect } from 'vitest';
import type { EndpointRules } from '@/lib/registry/endpoint-definition';
import { deriveOutcomes, placeOfCase } from '@/lib/registry/time-to-event';
import { END_CAUSES } from '@/lib/registry/time-to-event-causes';
import { cohortOf, EMPTY_CASE, recorded, type TestCase } from './time-to-event-cases';
import { type OracleOutcome, oracleOutcome } from './time-to-event-oracle';

/** 90 days blanked, the 90th included: day 91 is the first that counts. Each row says what it changes. */
export const BASE: EndpointRules = {
  start: 'first-procedure',
  blankingDays: 90,
  blankingEndInclusive: true,
  minimumSeconds: 30,
  comparator: 'at-least',
  wholeTracingCounts: true,
  rhythms: 'af-at-afl',
  confirmedTypicalFlutterExempt: false,
  symptomaticOnly: false,
  drugRule: 'ignored',
  repeatRule: 'censoring',
  cardioversionCounts: false,
  deathRule: 'censoring',
  evidenceForFreedom: 'ecg',
};

/** [the rule, what is known about the case, rules changed, what must come out]. Worked by hand from docs/methods/endpoint.md. */
export type Row = readonly [
  rule: string,
  known: Partial<TestCase>,
  rules: Partial<EndpointRules>,
  expected: string,
];

export const sinus = (day: number, more = {}) => recorded('sinus', day, more);
/** An AF recording longer than its episode. */
export const episode = (day: number, seconds: number | null, more = {}) =>
  recorded('af', day, { seconds, wholeTracing: false, grade: '24h', ...more });
export const MUST_BE_OFF = { drugRule: 'must-be-off' } as const;
export const RESUMPTION = { drugRule: 'resumption-is-failure' } as const;
export const EXCLUSIVE = { blankingEndInclusive: false } as const;
export const NO_BLANKING = { blankingDays: 0, blankingEndInclusive: false } as const;

function inWords(outcome: OracleOutcome): string {
  if (outcome.kind === 'excluded') return `excluded ${outcome.reason}`;
  const [left, right] = outcome.interval;
  const interval = right === null ? `(${left}, ...` : left === right ? 'exact' : `(${left}, ${right}]`;
  return `${outcome.status} ${outcome.time} ${outcome.cause} ${interval}`;
}

function derived(one: TestCase, rules: EndpointRules): string {
  const outcomes = deriveOutcomes(cohortOf([one]), rules);
  const place = placeOfCase(outcomes, 0);
  if (place === null) return 'neither analysed nor excluded';
  if (place.kind === 'excluded') return inWords(place);
  const right = outcomes.intervalRight[0];
  return inWords({
    kind: 'analysed',
    time: outcomes.timeDays[0],
    status: (['censored', 'event', 'competing death'] as const)[outcomes.status[0]],
    cause: END_CAUSES[outcomes.cause[0]].code,
    interval: [outcomes.intervalLeft[0], right < 0 ? null : right],
  });
}

/** Holds a row against the product and against the oracle. */
export function checkRow(
  _rule: string,
  known: Partial<TestCase>,
  changed: Partial<EndpointRules>,
  expected: string,
): void {
  const one = { ...EMPTY_CASE, ...known };
  const rules = { ...BASE, ...changed };
  expect(derived(one, rules)).toBe(expected);
  expect(inWords(oracleOutcome(one, rules))).toBe(expected);
}
