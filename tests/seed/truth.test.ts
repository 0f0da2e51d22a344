import { describe, expect, it } from 'vitest';
import { admissionsOf } from '@/seed/admissions';
import { baselineHazardAt, dayOfHazard, freedomAt, logRiskOf } from '@/seed/hazard';
import { simulateObserved } from '@/seed/observed';
import { COMPARED, DEMO_SEED, RECURRENCE, VERSION } from '@/seed/parameters';
import { streamOf } from '@/seed/random';
import { drawRhythm } from '@/seed/rhythm';
import { simulateFreedom } from '@/seed/truth';
import committed from '@/seed/truth.json';
import { TRUTH_LABS, truthOf } from '@/seed/truth-file';

type Point = { value: number; monteCarloSe: number };
const smaller = simulateFreedom(20, 99);

/** The written truth and a smaller simulation with other seeds differ by chance only. */
function agree(a: Point, b: Point): void {
  expect(Math.abs(a.value - b.value)).toBeLessThan(4.5 * Math.hypot(a.monteCarloSe, b.monteCarloSe) + 2e-6);
}

describe('truth.json', () => {
  it('belongs to this version and seed of the generator and rests on a million patients', () => {
    expect(committed.version).toBe(VERSION);
    expect(committed.seed).toBe(DEMO_SEED);
    expect(committed.simulation.patients).toBe(TRUTH_LABS * 1400);
    expect(committed.simulation.patients).toBeGreaterThanOrEqual(1_000_000);
  });

  it('is what the parameters give: everything that is not simulated is equal', () => {
    const made = truthOf(smaller, simulateObserved(1, 1));
    const fixed = (truth: object) =>
      JSON.parse(
        JSON.stringify(truth, (key, value: unknown) =>
          key === 'freedom' || key === 'observed' || key === 'simulation' ? undefined : value,
        ),
      );
    expect(fixed(made)).toEqual(fixed(committed));
  });

  it.each(COMPARED)('states freedom under %s within Monte Carlo error of a smaller simulation', (code) => {
    for (const part of ['wholePopulation', 'asTreated'] as const) {
      for (const day of ['day365', 'day730'] as const) {
        const written = committed.freedom[part][code][day];
        expect(written.monteCarloSe).toBeLessThan(0.0005);
        agree(written, smaller[part][code][day]);
      }
    }
  });

  it('states each pair, its overlap population and its crude contrast the same way', () => {
    expect(committed.freedom.pairs).toHaveLength(6);
    committed.freedom.pairs.forEach((pair, index) => {
      const other = smaller.pairs[index];
      expect(pair.strategies).toEqual(other.strategies);
      for (const day of ['day365', 'day730'] as const) {
        agree(pair.crudeDifference[day], other.crudeDifference[day]);
        expect(pair.overlapDifference === null).toBe(other.overlapDifference === null);
        if (!pair.overlapDifference || !other.overlapDifference) continue;
        agree(pair.overlapDifference[day], other.overlapDifference[day]);
      }
    });
  });

  it('names a pair that overlaps, whose crude contrast misleads, and one that does not overlap at all', () => {
    const pairOf = (names: readonly string[]) =>
      committed.freedom.pairs.find(({ strategies }) => strategies.join() === names.join());
    const [good, none] = [pairOf(committed.overlappingPair), pairOf(committed.disjointPair)];
    expect(good?.bothPlausible).toBeGreaterThan(0.85);
    expect(good?.effectiveShare).toBeGreaterThan(0.7);
    expect(good?.overlapDifference?.day365.value).toBeGreaterThan(0.08);
    expect(Math.abs(good?.crudeDifference.day365.value ?? 1)).toBeLessThan(0.02);
    expect(none?.overlapDifference).toBeNull();
    expect(none?.bothPlausible).toBe(0);
  });
});

describe('the hazard', () => {
  it('is worked out twice: days drawn one by one agree with the survival function', () => {
    const draws = [...admissionsOf(streamOf(3, 'admissions'))].map((admission) => {
      const logRisk = logRiskOf(admission);
      const { late } = drawRhythm(streamOf(3, 'rhythm', admission.index, 9), 0, logRisk, 'wide-encircling');
      return { late: late.firstDay, p: freedomAt(365, logRisk, 'wide-encircling') };
    });
    const free = draws.filter(({ late }) => late > 365).length;
    const expected = draws.reduce((sum, { p }) => sum + p, 0);
    const deviation = Math.sqrt(draws.reduce((sum, { p }) => sum + p * (1 - p), 0));
    expect(Math.abs(free - expected) / deviation).toBeLessThan(4);
    expect(Math.min(...draws.map(({ late }) => late))).toBeGreaterThan(RECURRENCE.blankingDays);
  });

  it('is proportional, worked by hand', () => {
    // (1270 - 90) / 1180 = 1, so H = 1 at day 1270 for the reference: freedom = exp(-1).
    expect(baselineHazardAt(90)).toBe(0);
    expect(baselineHazardAt(1270)).toBe(1);
    expect(freedomAt(1270, 0, 'ostial')).toBeCloseTo(Math.exp(-1), 12);
    // Twice the hazard squares the freedom.
    expect(freedomAt(365, Math.LN2, 'ostial')).toBeCloseTo(freedomAt(365, 0, 'ostial') ** 2, 12);
    expect(dayOfHazard(1, 0, 'ostial')).toBeCloseTo(1270, 9);
    const person = {
      ageYears: 60,
      afType: 'paroxysmal',
      laDiameterMm: 40,
      structuralHeartDisease: false,
      operator: 'OP-1',
      operatorCases: 1e9,
      calendarYears: 0,
    } as const;
    expect(logRiskOf(person)).toBe(0);
    expect(logRiskOf({ ...person, laDiameterMm: 50, structuralHeartDisease: true })).toBeCloseTo(0.8, 12);
    expect(logRiskOf({ ...person, afType: 'persistent', operator: 'OP-3', operatorCases: 0 })).toBeCloseTo(
      1.12,
      12,
    );
  });
});
