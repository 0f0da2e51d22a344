import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import {
  estimateOddsRatio,
  estimateRiskDifference,
  estimateRiskRatio,
  type RiskDifferenceLimits,
  testFisherExact,
  testPearsonChiSquare,
} from '@/lib/statistics';
import { tableDistribution, tableTails } from '@/lib/statistics/proportions/table-distribution';
import { asFisherTestStops } from '../../reference-run/loose-root';
import { estimable } from '../estimable';
import { differencesFrom, keptCases } from '../kept-cases';
import { loadReference } from '../reference-cases';

const cases = keptCases('two_proportions');
const decimal = (value: number, places: number): number => Number(value.toFixed(places)) + 0;

it.each(cases)('$id ($rCall)', (one) => {
  expect(differencesFrom(one)).toEqual([]);
});

it.each(cases)('$id: exact conditional limits lie within what fisher.test searches for', (one) => {
  const { x1, n1, x2, n2 } = z
    .object({ x1: z.number(), n1: z.number(), x2: z.number(), n2: z.number() })
    .parse(one.data);
  const number = z.union([z.number(), z.literal('Inf')]);
  const { fisher } = z
    .object({ fisher: z.object({ condOR: number, lower: number, upper: number }) })
    .parse(one.expected);
  const { confLevel } = z.object({ confLevel: z.number() }).parse(one.params);
  const found = estimateOddsRatio(
    { events: x1, n: n1 },
    { events: x2, n: n2 },
    { confidenceLevel: confLevel },
  );
  if (found.kind === 'notEstimable') return expect(x1 + x2).toBe(0);
  for (const [got, want] of [
    [found.ratio, fisher.condOR],
    [found.lower, fisher.lower],
    [found.upper, fisher.upper],
  ] as const) {
    if (want === 'Inf') expect(got).toBe(Number.POSITIVE_INFINITY);
    // Its search ends within 2^-13 of the odds ratio or, above 1, of the inverse.
    else expect(Math.abs(got > 1 ? 1 / got - 1 / want : got - want)).toBeLessThanOrEqual(2 ** -13);
  }
});

const table = z.object({
  data: z.object({ table: z.array(z.tuple([z.number(), z.number(), z.number(), z.number()])) }),
});
const printed = z.object({ printed: z.object({ values: z.record(z.string(), z.number()) }) });

it.each([
  ['pub-newcombe2-m10', 'method 10', 'newcombe'],
  ['pub-newcombe2-m11', 'method 11', 'newcombeCorrected'],
  ['pub-newcombe2-mee', 'method 5', 'mee'],
  ['pub-newcombe2-mn', 'method 6', 'miettinenNurminen'],
] as const)(
  '%s prints the limits of Newcombe, Stat Med 1998;17:873, table II, %s',
  (name, _, limits: RiskDifferenceLimits) => {
    const published = loadReference(name, table.and(printed));
    const { values } = published.printed;
    let compared = 0;
    for (const [i, [x1, n1, x2, n2]] of published.data.table.entries()) {
      const row = 'abcdefgh'[i];
      if (!(`lo_${row}` in values)) continue;
      const found = estimable(
        estimateRiskDifference({ events: x1, n: n1 }, { events: x2, n: n2 }, { limits }),
      );
      expect([decimal(found.lower, 4), decimal(found.upper, 4)]).toEqual([
        values[`lo_${row}`],
        values[`up_${row}`],
      ]);
      compared += 1;
    }
    expect(compared).toBe(Object.keys(values).length / 2);
  },
);

it('prints the limits of Koopman, Biometrics 1984;40:513, p. 517', () => {
  const { values } = loadReference('pub-koopman', printed).printed;
  const found = estimable(estimateRiskRatio({ events: 36, n: 40 }, { events: 16, n: 80 }));
  expect([decimal(found.lower, 2), decimal(found.upper, 2)]).toEqual([values.lower, values.upper]);
});

it('prints the tea tasting of Fisher 1935 as Agresti, Categorical Data Analysis, and R print it', () => {
  const { values } = loadReference('pub-tea', printed).printed;
  const [first, second] = [
    { events: 3, n: 4 },
    { events: 1, n: 4 },
  ];
  const test = estimable(testFisherExact(first, second));
  expect(decimal(test.pGreater, 4)).toBe(values.pGreater);
  expect(decimal(test.pValue, 4)).toBe(values.pTwoSided);
  const ratio = estimable(estimateOddsRatio(first, second));
  const at = (oddsRatio: number) => tableDistribution(first, second, oddsRatio);
  // The printed digits are where R's search stops; the exact values are 6.40832 and 626.2.
  const mean = asFisherTestStops(
    ratio.ratio,
    (t) => at(t).probability.reduce((sum, p, i) => sum + p * i, 0) - 3,
  );
  expect(decimal(mean, 6)).toBe(values.oddsRatio);
  const upper = asFisherTestStops(ratio.upper, (t) => tableTails(at(t), 3).lower - 0.025);
  expect(decimal(upper, 3)).toBe(values.upper);
  // One-sided at 95 % is the lower end of a two-sided interval at 90 %.
  const oneSided = estimable(estimateOddsRatio(first, second, { confidenceLevel: 0.9 }));
  expect(oneSided.lower).toBeCloseTo(values.lowerOneSided, 4);
});

describe('tables of the ablation literature', () => {
  const triple = z.tuple([z.number(), z.number(), z.number()]);
  const { rows } = loadReference(
    'literature-two-arms',
    z.object({
      rows: z.array(
        z.object({
          id: z.string(),
          x1: z.number(),
          n1: z.number(),
          x2: z.number(),
          n2: z.number(),
          chiSquare: z.number(),
          pChiSquare: z.number(),
          pFisher: z.number(),
          oddsRatioWoolf: triple.optional(),
          riskRatioKatz: triple.optional(),
          differenceNewcombe: triple,
        }),
      ),
    }),
  );

  it('are twenty-two', () => {
    expect(rows).toHaveLength(22);
  });

  it.each(rows)('$id', (row) => {
    const [first, second] = [
      { events: row.x1, n: row.n1 },
      { events: row.x2, n: row.n2 },
    ];
    const pearson = estimable(
      testPearsonChiSquare([
        [row.x1, row.n1 - row.x1],
        [row.x2, row.n2 - row.x2],
      ]),
    );
    expect([decimal(pearson.chiSquare, 5), decimal(pearson.pValue, 6)]).toEqual([
      row.chiSquare,
      row.pChiSquare,
    ]);
    expect(decimal(estimable(testFisherExact(first, second)).pValue, 6)).toBe(row.pFisher);
    const difference = estimable(estimateRiskDifference(first, second));
    const rounded = (...values: number[]): number[] => values.map((value) => decimal(value, 5));
    expect(rounded(difference.difference, difference.lower, difference.upper)).toEqual(
      row.differenceNewcombe,
    );
    const odds = estimateOddsRatio(first, second, { limits: 'woolf' });
    const risks = estimateRiskRatio(first, second, { limits: 'katz' });
    if (odds.kind === 'notEstimable' || risks.kind === 'notEstimable') {
      expect([odds.kind, risks.kind, row.oddsRatioWoolf]).toEqual([
        'notEstimable',
        'notEstimable',
        undefined,
      ]);
      return;
    }
    expect(rounded(odds.ratio, odds.lower, odds.upper)).toEqual(row.oddsRatioWoolf);
    expect(rounded(risks.ratio, risks.lower, risks.upper)).toEqual(row.riskRatioKatz);
  });
});

it('gives the eight differences of Newcombe, method 10, in six decimals', () => {
  const { rows } = loadReference(
    'literature-newcombe',
    z.object({
      rows: z.array(
        z.object({
          x1: z.number(),
          n1: z.number(),
          x2: z.number(),
          n2: z.number(),
          difference: z.number(),
          lower: z.number(),
          upper: z.number(),
        }),
      ),
    }),
  );
  for (const { x1, n1, x2, n2, ...want } of rows) {
    const found = estimable(estimateRiskDifference({ events: x1, n: n1 }, { events: x2, n: n2 }));
    const { difference, lower, upper } = found;
    expect({
      difference: decimal(difference, 6),
      lower: decimal(lower, 6),
      upper: decimal(upper, 6),
    }).toEqual(want);
  }
  expect(rows).toHaveLength(8);
});
