import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkEndpointRules } from '@/lib/registry/endpoint-contradictions';
import { type EndpointRules, endpointRulesSchema } from '@/lib/registry/endpoint-definition';
import { deriveOutcomes, placeOfCase, STATUS } from '@/lib/registry/time-to-event';
import { END_CAUSES, EXCLUSION_REASONS } from '@/lib/registry/time-to-event-causes';
import { explainOutcome } from '@/lib/registry/time-to-event-sentence';
import { EVIDENCE_GRADES, RHYTHMS } from '@/lib/registry/vocabulary';
import { cohortOf, type TestCase } from './time-to-event-cases';
import { type OracleOutcome, oracleOutcome } from './time-to-event-oracle';

// Days are few, so that everything meets on the same day, at the end of blanking, the day before and the day after.
const day = fc.integer({ min: -3, max: 12 });
const dayFromZero = fc.integer({ min: 0, max: 14 });
const orNone = <T>(arbitrary: fc.Arbitrary<T>) => fc.option(arbitrary, { freq: 2 });

const recording = fc
  .record({
    day,
    runs: fc.oneof({ weight: 3, arbitrary: fc.constant(0) }, fc.integer({ min: 0, max: 7 })),
    quietAfter: fc.oneof({ weight: 3, arbitrary: fc.constant(0) }, fc.integer({ min: 0, max: 7 })),
    rhythm: fc.oneof(
      fc.constantFrom('sinus' as const, 'af' as const),
      fc.constantFrom(...RHYTHMS.map((term) => term.code)),
    ),
    grade: fc.constantFrom(...EVIDENCE_GRADES.map((term) => term.code).filter((code) => code !== 'contact')),
    seconds: fc.constantFrom(null, 0, 29, 30, 31, 86_400),
    wholeTracing: fc.boolean(),
    symptomatic: fc.boolean(),
    seen: fc.boolean(),
    isDayByDay: fc.boolean(),
    isAtMost: fc.boolean(),
  })
  .map(({ runs, quietAfter, ...item }) => ({
    ...item,
    endDay: item.day + runs,
    recordedToDay: item.day + runs + quietAfter,
  }));

const drug = fc
  .record({ start: day, days: orNone(fc.integer({ min: 0, max: 5 })) })
  .map(({ start, days }) => ({ start, stop: days === null ? null : start + days }));

const testCase: fc.Arbitrary<TestCase> = fc
  .record({
    ordinal: fc.constantFrom(1, 1, 2),
    next: orNone(dayFromZero),
    // Negative: records that contradict each other, a death before the next procedure. Looking stops at the death.
    deathAfterNext: orNone(fc.integer({ min: -2, max: 8 })),
    deathAlone: orNone(dayFromZero),
    recordings: fc.array(recording, { maxLength: 5 }),
    drugs: fc.array(drug, { maxLength: 3 }),
    cardioversions: fc.array(day, { maxLength: 2 }),
    drugReviews: fc.array(fc.integer({ min: -3, max: 15 }), { maxLength: 3 }),
    contacts: fc.array(day, { maxLength: 1 }),
  })
  .map(({ deathAfterNext, deathAlone, ...one }) => {
    const afterNext =
      one.next === null || deathAfterNext === null ? null : Math.max(0, one.next + deathAfterNext);
    return { ...one, death: one.next === null ? deathAlone : afterNext };
  });

const startAndRepeat: fc.Arbitrary<Pick<EndpointRules, 'start' | 'repeatRule'>> = fc.constantFrom(
  { start: 'first-procedure', repeatRule: 'failure' },
  { start: 'first-procedure', repeatRule: 'censoring' },
  { start: 'each-procedure', repeatRule: 'failure' },
  { start: 'each-procedure', repeatRule: 'censoring' },
  { start: 'last-procedure', repeatRule: 'new-start' },
);

const rulesOf: fc.Arbitrary<EndpointRules> = fc
  .tuple(
    startAndRepeat,
    fc.record({
      blankingDays: fc.integer({ min: 0, max: 6 }),
      blankingEndInclusive: fc.boolean(),
      minimumSeconds: fc.constantFrom(0, 29, 30, 31),
      comparator: fc.constantFrom('at-least' as const, 'more-than' as const),
      wholeTracingCounts: fc.boolean(),
      rhythms: fc.constantFrom('af' as const, 'af-at-afl' as const),
      confirmedTypicalFlutterExempt: fc.boolean(),
      symptomaticOnly: fc.constantFrom(false, false, true),
      drugRule: fc.constantFrom('ignored' as const, 'resumption-is-failure' as const, 'must-be-off' as const),
      cardioversionCounts: fc.boolean(),
      deathRule: fc.constantFrom('censoring' as const, 'failure' as const, 'competing' as const),
      evidenceForFreedom: fc.constantFrom(
        'ecg' as const,
        'ecg' as const,
        '24h' as const,
        '14d' as const,
        'continuous' as const,
      ),
    }),
  )
  .map(([start, rules]) => ({ ...start, ...rules }))
  .filter((rules) => checkEndpointRules(rules).every((finding) => finding.kind !== 'refusal'));

function derivedAsOracle(cases: readonly TestCase[], rules: EndpointRules): OracleOutcome[] {
  const outcomes = deriveOutcomes(cohortOf(cases), rules);
  return cases.map((_, index): OracleOutcome => {
    const place = placeOfCase(outcomes, index);
    if (place === null) throw new Error(`case ${index} is neither analysed nor excluded`);
    if (place.kind === 'excluded') return place;
    const at = place.position;
    const right = outcomes.intervalRight[at];
    return {
      kind: 'analysed',
      time: outcomes.timeDays[at],
      status: (['censored', 'event', 'competing death'] as const)[outcomes.status[at]],
      cause: END_CAUSES[outcomes.cause[at]].code,
      interval: [outcomes.intervalLeft[at], right < 0 ? null : right],
    };
  });
}

describe('time to event against a second derivation written from the definitions', () => {
  it('agrees case by case on random cohorts and random rules', () => {
    const reached = new Map<string, number>();
    fc.assert(
      fc.property(fc.array(testCase, { minLength: 1, maxLength: 12 }), rulesOf, (cases, rules) => {
        expect(endpointRulesSchema.safeParse(rules).success).toBe(true);
        const expected = cases.map((one) => oracleOutcome(one, rules));
        expect(derivedAsOracle(cases, rules)).toEqual(expected);
        for (const outcome of expected) {
          const name = outcome.kind === 'excluded' ? outcome.reason : `${outcome.status}: ${outcome.cause}`;
          reached.set(name, (reached.get(name) ?? 0) + 1);
        }
      }),
      { numRuns: 6000, seed: 20_260_101 },
    );
    // The comparison is worth something only if every end and every reason was reached, and more than once.
    const ends = END_CAUSES.map(({ code }) =>
      code.startsWith('censored') ? `censored: ${code}` : `event: ${code}`,
    );
    const all = [...ends, 'competing death: death', ...EXCLUSION_REASONS.map(({ code }) => code)];
    expect(all.filter((name) => (reached.get(name) ?? 0) < 50)).toEqual([]);
  });
});

describe('derived columns', () => {
  it('hold every case once, in order, within the bounds that estimates rely on', () => {
    fc.assert(
      fc.property(
        fc.array(testCase, { maxLength: 12 }),
        rulesOf,
        fc.infiniteStream(fc.boolean()),
        (cases, rules, keep) => {
          const cohort = cohortOf(cases);
          const mask = Uint8Array.from(cases, () => (keep.next().value ? 1 : 0));
          const outcomes = deriveOutcomes(cohort, rules, mask);
          const excluded = EXCLUSION_REASONS.flatMap(({ code }) => [...outcomes.excluded[code]]);
          const looked = [...outcomes.caseIndex, ...excluded].sort((a, b) => a - b);
          expect(looked).toEqual([...mask.keys()].filter((index) => mask[index] === 1));
          expect(outcomes.considered).toBe(outcomes.analysed + excluded.length);
          expect([...outcomes.caseIndex]).toEqual([...outcomes.caseIndex].sort((a, b) => a - b));
          for (let at = 0; at < outcomes.analysed; at++) {
            const [left, right, time] = [
              outcomes.intervalLeft[at],
              outcomes.intervalRight[at],
              outcomes.timeDays[at],
            ];
            expect(outcomes.entryDays[at]).toBe(outcomes.entryDay);
            if (outcomes.entryDay > 0) expect(time).toBeGreaterThan(outcomes.entryDay);
            else expect(time).toBeGreaterThanOrEqual(0);
            expect(right === -1 || (right === time && left <= right)).toBe(true);
            expect(right === -1).toBe(outcomes.status[at] !== STATUS.event);
          }
        },
      ),
      { numRuns: 1500, seed: 20_260_102 },
    );
  });

  it('do not depend on which other cases stand beside a case', () => {
    fc.assert(
      fc.property(fc.array(testCase, { minLength: 2, maxLength: 8 }), rulesOf, (cases, rules) => {
        const together = derivedAsOracle(cases, rules);
        expect(together).toEqual(cases.flatMap((one) => derivedAsOracle([one], rules)));
      }),
      { numRuns: 500, seed: 20_260_103 },
    );
  });

  it('explain each case in one sentence that names the day', () => {
    fc.assert(
      fc.property(fc.array(testCase, { minLength: 1, maxLength: 6 }), rulesOf, (cases, rules) => {
        const cohort = cohortOf(cases);
        const outcomes = deriveOutcomes(cohort, rules);
        cases.forEach((_, index) => {
          const sentence = explainOutcome(cohort, outcomes, index);
          expect(sentence).toMatch(/^[A-Z][^.]*\.$/);
          expect(sentence).not.toMatch(/undefined|NaN|null|day -/);
          const place = placeOfCase(outcomes, index);
          if (place?.kind === 'analysed')
            expect(sentence).toContain(`day ${outcomes.timeDays[place.position]}`);
          else expect(sentence).toMatch(/^Not analysed: /);
        });
      }),
      { numRuns: 1500, seed: 20_260_104 },
    );
  });

  it('refuse contradictory rules and a filter of the wrong length', () => {
    const cohort = cohortOf([]);
    const rules = fc.sample(rulesOf, { numRuns: 1, seed: 1 })[0];
    expect(() =>
      deriveOutcomes(cohort, { ...rules, start: 'last-procedure', repeatRule: 'failure' }),
    ).toThrow(/contradictory endpoint rules: repeatRule/);
    expect(() => deriveOutcomes(cohort, rules, new Uint8Array(1))).toThrow(/1 entries, the cohort 0 cases/);
  });
});
