import { expect, it } from 'vitest';
import { z } from 'zod';
import {
  estimateProportion,
  estimateWilsonInterval,
  estimateZeroEventLimits,
  type ProportionLimits,
} from '@/lib/statistics';
import { estimable } from '../estimable';
import { differencesFrom, keptCases } from '../kept-cases';
import { loadReference } from '../reference-cases';

const numbers = z.array(z.number());

it.each(keptCases('proportion_ci'))('$id ($rCall)', (one) => {
  expect(differencesFrom(one)).toEqual([]);
});

it.each(keptCases('rule_of_three'))('$id ($rCall)', (one) => {
  expect(differencesFrom(one)).toEqual([]);
});

it.each([
  ['pub-newcombe1-wilson', 'method 3', 'wilson'],
  ['pub-newcombe1-wilsoncc', 'method 4', 'wilsonCorrected'],
  ['pub-newcombe1-cp', 'method 5', 'clopperPearson'],
  ['pub-newcombe1-midp', 'method 6', 'midP'],
] as const)(
  '%s prints the limits of Newcombe, Stat Med 1998;17:857, table I, %s',
  (name, _, limits: ProportionLimits) => {
    const { data, printed } = loadReference(
      name,
      z.object({
        data: z.object({ x: numbers, n: numbers }),
        printed: z.object({ values: z.record(z.string(), z.number()) }),
      }),
    );
    for (const [i, events] of data.x.entries()) {
      const { lower, upper } = estimable(estimateProportion(events, data.n[i], { limits }));
      const key = `${events}_${data.n[i]}`;
      expect([Number(lower.toFixed(4)), Number(upper.toFixed(4))]).toEqual([
        printed.values[`lo_${key}`],
        printed.values[`up_${key}`],
      ]);
    }
    expect(data.x).toHaveLength(4);
  },
);

it('prints 3/14 and 3/167 of Hanley & Lippman-Hand, JAMA 1983;249:1743', () => {
  const { printed } = loadReference(
    'pub-hanley',
    z.object({ printed: z.object({ values: z.object({ three14: z.number(), three167: z.number() }) }) }),
  );
  const three = (n: number): number => Number(estimable(estimateZeroEventLimits(n)).ruleOfThree.toFixed(3));
  expect({ three14: three(14), three167: three(167) }).toEqual(printed.values);
});

const literature = loadReference(
  'literature-proportions',
  z.object({
    rows: z.array(
      z.object({
        id: z.string(),
        x: z.number(),
        n: z.number(),
        p: z.number(),
        wilson: z.tuple([z.number(), z.number()]),
        clopperPearson: z.tuple([z.number(), z.number()]),
      }),
    ),
  }),
);

it('has sixty-one counts of the literature', () => {
  expect(literature.rows).toHaveLength(61);
});

it.each(literature.rows)('$id: $x of $n', ({ x, n, p, wilson, clopperPearson }) => {
  const rounded = (...values: number[]): number[] => values.map((value) => Number(value.toFixed(7)));
  const score = estimable(estimateWilsonInterval(x, n));
  const exact = estimable(estimateProportion(x, n, { limits: 'clopperPearson' }));
  expect(rounded(score.proportion)).toEqual([p]);
  expect(rounded(score.lower, score.upper)).toEqual(wilson);
  expect(rounded(exact.lower, exact.upper)).toEqual(clopperPearson);
});

it('tells the method of printed ranges: Wilson corrected for continuity, on counts, rounded outward (Steinbeck et al, Eur Heart J 2018;39:4020)', () => {
  const { events } = loadReference(
    'literature-interval-methods',
    z.object({
      events: z.object({ rows: z.array(z.tuple([z.number(), z.number(), z.number(), z.number()])) }),
    }),
  );
  expect(events.rows).toHaveLength(9);
  for (const [x, n, lower, upper] of events.rows) {
    const found = estimable(estimateProportion(x, n, { limits: 'wilsonCorrected' }));
    expect([Math.floor(found.lower * n), Math.ceil(found.upper * n)]).toEqual([lower, upper]);
  }
});
