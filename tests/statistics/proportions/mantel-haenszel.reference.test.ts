import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import {
  estimateMantelHaenszel,
  type StratifiedMeasure,
  testBreslowDay,
  testCochranMantelHaenszel,
  testStratumHeterogeneity,
} from '@/lib/statistics';
import { compareAnswer } from '../../reference-run/compare';
import { loadReference } from '../reference-cases';

const counts = z.array(z.number());
const pooled = z.object({
  estimate: z.number(),
  standardError: z.number(),
  lower: z.number(),
  upper: z.number(),
  q: z.number(),
  qDf: z.number(),
  qP: z.number(),
  iSquared: z.number(),
});
const { cases, tolerance } = loadReference(
  'mantel-haenszel',
  z.object({
    tolerance: z.object({ rel: z.number(), abs: z.number() }),
    cases: z.array(
      z.object({
        id: z.string(),
        firstEvents: counts,
        firstN: counts,
        secondEvents: counts,
        secondN: counts,
        OR: pooled,
        RR: pooled,
        RD: pooled,
        cmh: z.object({
          chiSquare: z.number(),
          p: z.number(),
          chiSquareCorrected: z.number(),
          pCorrected: z.number(),
        }),
        mantelhaen: z.object({ oddsRatio: z.number(), lower: z.number(), upper: z.number() }),
        tarone: z.object({ chiSquare: z.number(), df: z.number(), p: z.number() }),
      }),
    ),
  }),
);
const MEASURES = { OR: 'oddsRatio', RR: 'riskRatio', RD: 'riskDifference' } as const satisfies Record<
  string,
  StratifiedMeasure
>;

describe.each(cases)('$id', (one) => {
  it.each(Object.entries(MEASURES))('%s, Q and I2 of metafor::rma.mh', (key, measure) => {
    const estimate = estimateMantelHaenszel(one, { measure });
    const test = testStratumHeterogeneity(one, { measure });
    if (estimate.kind !== 'estimated' || test.kind !== 'tested') throw new Error('not estimable');
    const { q, degreesOfFreedom: qDf, pValue: qP, iSquared } = test;
    const want = key === 'OR' ? one.OR : key === 'RR' ? one.RR : one.RD;
    expect(compareAnswer({ ...estimate, q, qDf, qP, iSquared }, want, tolerance)).toEqual([]);
  });

  it('the test of Cochran, Mantel and Haenszel and the odds ratio of stats::mantelhaen.test', () => {
    const plain = testCochranMantelHaenszel(one);
    const corrected = testCochranMantelHaenszel(one, { continuityCorrection: true });
    const ratio = estimateMantelHaenszel(one);
    if (plain.kind !== 'tested' || corrected.kind !== 'tested' || ratio.kind !== 'estimated') {
      throw new Error('not estimable');
    }
    const { chiSquareCorrected, pCorrected, ...want } = one.cmh;
    expect(compareAnswer({ ...plain, p: plain.pValue }, want, tolerance)).toEqual([]);
    expect(compareAnswer({ ...ratio, oddsRatio: ratio.estimate }, one.mantelhaen, tolerance)).toEqual([]);
    // Below a distance of 1/2 mantelhaen.test corrects nothing; here the distance is then taken as none.
    if (chiSquareCorrected === want.chiSquare) {
      expect(corrected).toMatchObject({ chiSquare: 0, pValue: 1 });
      return;
    }
    expect(
      compareAnswer(
        { chiSquareCorrected: corrected.chiSquare, pCorrected: corrected.pValue },
        { chiSquareCorrected, pCorrected },
        tolerance,
      ),
    ).toEqual([]);
  });

  it("Tarone's form of the Breslow-Day test of metafor::rma.mh", () => {
    const test = testBreslowDay(one);
    if (test.kind !== 'tested') throw new Error(test.reason);
    const { taroneChiSquare: chiSquare, taronePValue: p, degreesOfFreedom: df } = test;
    expect(compareAnswer({ chiSquare, p, df }, one.tarone, tolerance)).toEqual([]);
  });
});

it('prints 8.3052, 3.3132 (1.4456 to 7.5934), 2.1636 (1.2336 to 3.7948) and Breslow-Day 1.4929 for the widely reproduced example of a headache treatment', () => {
  const [example] = cases;
  const round = (value: number): number => Number(value.toFixed(4));
  const test = testCochranMantelHaenszel(example);
  const breslowDay = testBreslowDay(example);
  if (test.kind !== 'tested' || breslowDay.kind !== 'tested') throw new Error('not tested');
  expect(round(test.chiSquare)).toBe(8.3052);
  expect(round(breslowDay.chiSquare)).toBe(1.4929);
  expect(round(breslowDay.pValue)).toBe(0.2218);
  const limits = (measure: StratifiedMeasure): number[] => {
    const found = estimateMantelHaenszel(example, { measure });
    if (found.kind !== 'estimated') throw new Error(found.reason);
    return [found.estimate, found.lower, found.upper].map(round);
  };
  expect(limits('oddsRatio')).toEqual([3.3132, 1.4456, 7.5934]);
  expect(limits('riskRatio')).toEqual([2.1636, 1.2336, 3.7948]);
});
