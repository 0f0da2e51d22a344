import { describe, expect, it } from 'vitest';
import {
  deriveCusumAlarmChance,
  deriveCusumRunLength,
  deriveCusumThreshold,
  deriveRunLengthUncertainty,
  estimateCusumRunLength,
} from '@/lib/statistics';
import { estimable } from '../estimable';
import { expectMistake } from '../expect-mistake';
import { seededRandom } from '../seeded-random';

/** Risk 1/7, odds ratio 8: an event adds log 4, none takes off log 2. At threshold 3 log 2 the states are 0, 1, 2. */
const mix = { probability: [1 / 7] };
const chart = { oddsRatio: 8, threshold: 3 * Math.log(2) };
const thirds = { cells: 3 };
const risk = [0.02, 0.05, 0.1];

describe('the run length by a Markov chain', () => {
  it('in control: L0 = 7 + L2, L2 = 1 + 6/7 L1, L1 = 1 + 6/7 L0, so 434/13', () => {
    expect(estimable(deriveCusumRunLength(mix, chart, thirds)).mean).toBeCloseTo(434 / 13, 10);
    expect(estimable(deriveCusumRunLength(mix, chart, { cells: 300 })).mean).toBeCloseTo(434 / 13, 10);
  });

  it('after the rise an event has chance 4/7: 623/160', () => {
    const risen = { ...chart, trueOddsRatio: 8 };
    expect(estimable(deriveCusumRunLength(mix, risen, thirds)).mean).toBeCloseTo(623 / 160, 11);
  });

  it('takes true risks that differ from those of the chart: 4/7 given is 4/7 by odds ratio', () => {
    const wrong = { ...mix, trueProbability: [4 / 7] };
    expect(estimable(deriveCusumRunLength(wrong, chart, thirds)).mean).toBeCloseTo(623 / 160, 11);
  });

  it('up to the first rise it is one over the chance of an event', () => {
    const low = { ...chart, threshold: 0.5 };
    expect(estimable(deriveCusumRunLength(mix, low)).mean).toBeCloseTo(7, 12);
    // The first event reaches log 4 exactly; just above it takes two.
    const reached = { ...chart, threshold: 2 * Math.log(2) };
    expect(estimable(deriveCusumRunLength(mix, reached, { cells: 2 })).mean).toBeCloseTo(7, 11);
    // Between 2 and 3 log 2 the run length stays the same; off the whole steps the grid comes close to it.
    const above = { ...chart, threshold: 1.7 };
    expect(estimable(deriveCusumRunLength(mix, above)).mean / (434 / 13)).toBeCloseTo(1, 2);
  });

  it('cases of different risk are mixed: risk 0 adds nothing but time', () => {
    const half = { probability: [1 / 7, 0] };
    expect(estimable(deriveCusumRunLength(half, chart, thirds)).mean).toBeCloseTo((2 * 434) / 13, 9);
  });

  it('without cases, or where nothing raises the sum, has none', () => {
    const codeOf = (found: object): unknown => ('code' in found ? found.code : 'none');
    expect(codeOf(deriveCusumRunLength({ probability: [] }, chart))).toBe('noRows');
    expect(codeOf(deriveCusumRunLength({ probability: [1] }, chart))).toBe('neverSignals');
    const harmless = { probability: [0.1], trueProbability: [0] };
    expect(codeOf(deriveCusumRunLength(harmless, chart))).toBe('neverSignals');
  });

  it('refuses what has no meaning', () => {
    const of = (more = {}, options = {}) => deriveCusumRunLength(mix, { ...chart, ...more }, options);
    const uneven = { probability: [0.1, 0.2], trueProbability: [0.1] };
    expectMistake(() => deriveCusumRunLength(uneven, chart), 'unequalLengths', 'trueProbability');
    const outside = { probability: [0.1, 0.2], trueProbability: [0.1, 2] };
    expectMistake(() => deriveCusumRunLength(outside, chart), 'outOfRange', 'trueProbability', 1);
    expectMistake(() => deriveCusumRunLength({ probability: [-1] }, chart), 'outOfRange', 'probability', 0);
    expectMistake(() => of({ oddsRatio: 1 }), 'outOfRange', 'oddsRatio');
    expectMistake(() => of({ trueOddsRatio: 0 }), 'outOfRange', 'trueOddsRatio');
    expectMistake(() => of({ threshold: 0 }), 'outOfRange', 'threshold');
    expectMistake(() => of({}, { cells: 0 }), 'outOfRange', 'cells');
    expectMistake(() => of({}, { cells: 5001 }), 'outOfRange', 'cells');
    expectMistake(() => of({}, { cells: 2.5 }), 'notInteger', 'cells');
  });
});

describe('the chance of an alarm', () => {
  const within = (cases: number): number =>
    estimable(deriveCusumAlarmChance(mix, chart, cases, thirds)).chance;

  it('within 0 and 1 cases is 0, within 2 is 1/49, within 3 is 1/49 + 2 x 6/343', () => {
    expect(within(0)).toBe(0);
    expect(within(1)).toBe(0);
    expect(within(2)).toBeCloseTo(1 / 49, 14);
    expect(within(3)).toBeCloseTo(19 / 343, 14);
  });

  it('sums to the run length over all numbers of cases', () => {
    let mean = 0;
    for (let cases = 0; cases < 800; cases += 1) mean += 1 - within(cases);
    expect(mean).toBeCloseTo(434 / 13, 6);
  });

  it('is certain where the first case must signal', () => {
    const sure = deriveCusumAlarmChance(
      { probability: [0.1], trueProbability: [1] },
      { ...chart, threshold: 0.1 },
      1,
    );
    expect(estimable(sure).chance).toBe(1);
  });

  it('needs cases in the mix and a number of them', () => {
    expect(deriveCusumAlarmChance({ probability: [] }, chart, 5)).toMatchObject({ code: 'noRows' });
    expectMistake(() => deriveCusumAlarmChance(mix, chart, -1), 'outOfRange', 'cases');
    expectMistake(() => deriveCusumAlarmChance(mix, chart, 1.5), 'notInteger', 'cases');
    expectMistake(
      () => deriveCusumAlarmChance(mix, { ...chart, threshold: -1 }, 1),
      'outOfRange',
      'threshold',
    );
    expectMistake(() => deriveCusumAlarmChance(mix, chart, 1, { cells: 0 }), 'outOfRange', 'cells');
  });
});

describe('the run length by simulation', () => {
  const options = { random: seededRandom(11), runs: 4000 };

  it('lies within 3 standard errors of 434/13', () => {
    const found = estimable(estimateCusumRunLength(mix, chart, options));
    expect(found.runs).toBe(4000);
    expect(Math.abs(found.mean - 434 / 13)).toBeLessThan(3 * found.standardError);
    // Runs are nearly geometric: their spread is close to their mean.
    expect(found.standardError * Math.sqrt(4000)).toBeGreaterThan(25);
    expect(found.standardError * Math.sqrt(4000)).toBeLessThan(40);
  });

  it('is a plain mean: with draws that make runs of 2 and 4, mean 3 and standard error 1', () => {
    // Each case takes two draws: the row, then the event (below 1/7).
    const events = [1, 1, 0, 0, 1, 1];
    const draws = events.flatMap((event) => [0.5, event === 1 ? 0 : 0.9]);
    let next = 0;
    const random = (): number => {
      next += 1;
      return draws[next - 1];
    };
    expect(estimateCusumRunLength(mix, chart, { random, runs: 2 })).toEqual({
      kind: 'estimated',
      runs: 2,
      mean: 3,
      standardError: 1,
    });
  });

  it('draws a case from its row: with the larger draw, the second', () => {
    const pair = { probability: [1 / 7, 1 / 7], trueProbability: [0, 1] };
    const upper = { random: () => 0.5, runs: 2 };
    expect(estimable(estimateCusumRunLength(pair, chart, upper)).mean).toBe(2);
    const lower = { random: () => 0.49, runs: 2, longestRun: 50 };
    expect(estimateCusumRunLength(pair, chart, lower)).toMatchObject({ code: 'runTooLong' });
  });

  it('gives no mean when a run is cut, not even at the last case allowed too few', () => {
    const sure = { probability: [1 / 7], trueProbability: [1] };
    const random = seededRandom(1);
    expect(estimateCusumRunLength(sure, chart, { random, runs: 2, longestRun: 2 })).toMatchObject({
      mean: 2,
    });
    expect(estimateCusumRunLength(sure, chart, { random, runs: 2, longestRun: 1 })).toMatchObject({
      kind: 'notEstimable',
      code: 'runTooLong',
    });
  });

  it('without cases, or where nothing raises the sum, has none', () => {
    expect(estimateCusumRunLength({ probability: [] }, chart, options)).toMatchObject({ code: 'noRows' });
    expect(estimateCusumRunLength({ probability: [1] }, chart, options)).toMatchObject({
      code: 'neverSignals',
    });
  });

  it('refuses a generator that leaves 0 to 1 and counts without a meaning', () => {
    const of = (more: object) => estimateCusumRunLength(mix, chart, { ...options, ...more });
    for (const u of [1, -0.1, Number.NaN])
      expectMistake(() => of({ random: () => u }), 'outOfRange', 'random');
    expectMistake(() => of({ runs: 1 }), 'outOfRange', 'runs');
    expectMistake(() => of({ runs: 2.5 }), 'notInteger', 'runs');
    expectMistake(() => of({ longestRun: 0 }), 'outOfRange', 'longestRun');
    const never = { ...chart, threshold: 0 };
    expectMistake(() => estimateCusumRunLength(mix, never, options), 'outOfRange', 'threshold');
  });
});

describe('the threshold for a wanted run length', () => {
  it('gives that run length, and a lower one a shorter one', () => {
    const wanted = { oddsRatio: 2 };
    const found = estimable(deriveCusumThreshold({ probability: risk }, wanted, 800, { cells: 100 }));
    expect(found.runLength).toBeGreaterThanOrEqual(800);
    expect(found.runLength).toBeLessThan(800.001);
    const at = (threshold: number): number =>
      estimable(deriveCusumRunLength({ probability: risk }, { ...wanted, threshold }, { cells: 100 })).mean;
    expect(at(found.threshold)).toBe(found.runLength);
    expect(at(found.threshold * 0.999)).toBeLessThan(800);
  });

  it('stands where the run length jumps: at the first rise, log 4', () => {
    const found = estimable(deriveCusumThreshold(mix, { oddsRatio: 8 }, 7.5, { cells: 100 }));
    // The grid blurs the jump by less than a step.
    expect(found.threshold).toBeGreaterThanOrEqual(Math.log(4));
    expect(found.threshold).toBeLessThan(Math.log(4) * (1 + 1 / 100));
    expect(found.runLength).toBeGreaterThan(7.5);
  });

  it('does not exist below one over the chance of an event, nor without a rise, nor without cases', () => {
    expect(deriveCusumThreshold(mix, { oddsRatio: 8 }, 7 - 1e-9)).toMatchObject({
      code: 'runLengthTooShort',
    });
    expect(deriveCusumThreshold({ probability: [1] }, { oddsRatio: 8 }, 50)).toMatchObject({
      code: 'neverSignals',
    });
    expect(deriveCusumThreshold({ probability: [] }, { oddsRatio: 8 }, 50)).toMatchObject({ code: 'noRows' });
  });

  it('refuses a run length of 0 or without end, and cells that are none', () => {
    expectMistake(() => deriveCusumThreshold(mix, { oddsRatio: 8 }, 0), 'outOfRange', 'runLength');
    const endless = Number.POSITIVE_INFINITY;
    expectMistake(() => deriveCusumThreshold(mix, { oddsRatio: 8 }, endless), 'notFinite', 'runLength');
    expectMistake(() => deriveCusumThreshold(mix, { oddsRatio: 8 }, 9, { cells: 0 }), 'outOfRange', 'cells');
  });
});

describe('the run length under an uncertain baseline', () => {
  it('is one run length per draw, with their median and limits', () => {
    const draws = [[4 / 7], [1 / 7], [1 / 7]];
    const options = { cells: 3, confidenceLevel: 0.5 };
    const found = estimable(deriveRunLengthUncertainty([1 / 7], draws, chart, options));
    expect(found.runLengths[0]).toBeCloseTo(623 / 160, 10);
    expect(found.runLengths[1]).toBeCloseTo(434 / 13, 10);
    expect(found.median).toBeCloseTo(434 / 13, 10);
    // The quarter of three draws lies halfway between the first and the second.
    expect(found.lower).toBeCloseTo((623 / 160 + 434 / 13) / 2, 9);
    expect(found.upper).toBeCloseTo(434 / 13, 10);
    expect(found.confidenceLevel).toBe(0.5);
  });

  it('of one draw has no width', () => {
    const found = estimable(deriveRunLengthUncertainty([1 / 7], [[1 / 7]], chart, thirds));
    expect([found.lower, found.upper]).toEqual([found.median, found.median]);
    expect(found.confidenceLevel).toBe(0.95);
  });

  it('needs draws, and a run length under each', () => {
    expect(deriveRunLengthUncertainty([0.1], [], chart)).toMatchObject({ code: 'noRows' });
    expect(deriveRunLengthUncertainty([0.1], [[0.1], [0]], chart)).toMatchObject({ code: 'neverSignals' });
    const of = (confidenceLevel: number) =>
      deriveRunLengthUncertainty([0.1], [[0.1]], chart, { confidenceLevel });
    expectMistake(() => of(1), 'outOfRange', 'confidenceLevel');
    expectMistake(
      () => deriveRunLengthUncertainty([0.1], [[0.1, 0.2]], chart),
      'unequalLengths',
      'trueProbability',
    );
  });
});
