import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import {
  deriveBernoulliCusum,
  deriveEwma,
  deriveObservedMinusExpected,
  deriveRiskAdjustedCusum,
  deriveRiskAdjustedEwma,
  deriveTabularCusum,
} from '@/lib/statistics';
import { estimable } from '../estimable';
import { differencesFrom, keptCases } from '../kept-cases';
import { loadReference } from '../reference-cases';

const numbers = z.array(z.number());

describe.each(['ewma', 'ra_ewma', 'ra_cusum', 'bernoulli_cusum', 'tabular_cusum'])('%s', (method) => {
  const cases = keptCases(method);

  it('has cases', () => {
    expect(cases.length).toBeGreaterThan(0);
  });

  it.each(cases)('$id', (one) => {
    expect(differencesFrom(one)).toEqual([]);
  });
});

it('prints the averages of NIST/SEMATECH e-Handbook 6.3.2.4', () => {
  const { data, printed } = loadReference(
    'pub-nist-ewma',
    z.object({
      data: z.object({ x: numbers }),
      printed: z.object({ values: z.record(z.string(), z.number()) }),
    }),
  );
  const chart = deriveEwma(data.x, {
    target: 50,
    standardDeviation: 2.0539,
    newestShare: 0.3,
    limitWidth: 3,
  });
  expect(chart.average).toHaveLength(20);
  chart.average.forEach((value, i) => {
    expect(Number(value.toFixed(2))).toBe(printed.values[`z${i + 1}`]);
  });
  // The handbook's 47.4115 and 52.5884 come from a factor cut to 0.4201.
  expect(chart.asymptoticLower).toBeCloseTo(50 - 3 * 0.42008 * 2.0539, 4);
  expect(chart.asymptoticUpper).toBeCloseTo(50 + 3 * 0.42008 * 2.0539, 4);
});

it('prints the weights of the lowest and highest risk in Steiner et al., Biostatistics 2000;1:441', () => {
  const { data, expected, printed } = loadReference(
    'pub-steiner-weights',
    z.object({
      data: z.object({ scores: numbers }),
      expected: z.record(z.string(), z.number()),
      printed: z.object({ values: z.record(z.string(), z.number()) }),
    }),
  );
  const probability = data.scores.flatMap((score) => {
    const p = 1 / (1 + Math.exp(3.68 - 0.077 * score));
    return [p, p];
  });
  const { weight } = deriveRiskAdjustedCusum(
    { event: [1, 0, 1, 0], probability },
    { oddsRatio: 2, threshold: 4.5 },
  );
  ['die0', 'live0', 'die71', 'live71'].forEach((key, i) => {
    expect(weight[i]).toBeCloseTo(expected[key], 12);
    const decimals = key === 'live0' ? 3 : 2;
    expect(Number(weight[i].toFixed(decimals))).toBe(printed.values[key]);
  });
});

it('a constant risk gives the chart of the Bernoulli sum, and the sums of a series of 40', () => {
  const { data, expected } = loadReference(
    'racusum-edge-constant-p',
    z.object({
      data: z.object({ p: numbers, y: numbers }),
      expected: z.object({ sUp: numbers, sdOE: numbers }),
    }),
  );
  const shiftedRate = 0.1 / 1.05;
  const { sum } = deriveBernoulliCusum(data.y, { baselineRate: 0.05, shiftedRate, threshold: 1.5 });
  sum.forEach((value, i) => {
    expect(value).toBeCloseTo(expected.sUp[i], 12);
  });
  const sums = deriveObservedMinusExpected({ event: data.y, probability: data.p });
  expect(sums.standardDeviation[39]).toBeCloseTo(expected.sdOE[39], 12);
});

it('reads the last values of the kept charts', () => {
  const last = { x: numbers.transform((list) => list.at(-1)) };
  const tabular = loadReference(
    'tabcusum-a',
    z.object({ data: z.object({ x: numbers }), expected: z.object({ sHigh: last.x }) }),
  );
  const found = deriveTabularCusum(tabular.data.x, { target: 10, slack: 0.5, threshold: 2 });
  expect(found.high.at(-1)).toBeCloseTo(tabular.expected.sHigh ?? Number.NaN, 12);
  const adjusted = loadReference(
    'raewma-a',
    z.object({
      data: z.object({ p: numbers, y: numbers }),
      expected: z.object({ ewmaObserved: last.x, sd: last.x }),
    }),
  );
  const { data, expected } = adjusted;
  const chart = estimable(
    deriveRiskAdjustedEwma({ event: data.y, probability: data.p }, { newestShare: 0.02, limitWidth: 3 }),
  );
  expect(chart.observed.at(-1)).toBeCloseTo(expected.ewmaObserved ?? Number.NaN, 12);
  expect(chart.standardDeviation.at(-1)).toBeCloseTo(expected.sd ?? Number.NaN, 12);
});
