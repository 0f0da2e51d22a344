import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import {
  estimateConditionalSurvival,
  estimateKaplanMeier,
  selectAtLandmark,
  testLogRank,
} from '@/lib/statistics';
import { codesOf, differences, loadCases } from '../reference-cases';
import { estimated } from './estimated';

const numbers = z.array(z.number());
const label = z.union([z.string(), z.number()]);
const shape = z.object({
  params: z.object({ landmark: z.number(), times: numbers }),
  data: z.object({ time: numbers, status: numbers, group: z.array(label) }),
  expected: z.object({
    nAtLandmark: z.number(),
    time: numbers,
    nRisk: numbers,
    surv: numbers,
    conditionalFromFullCurve: numbers,
    atTimes: z.object({
      stdErrSurv: numbers,
      'log-log': z.object({ lower: numbers, upper: numbers }),
    }),
    logrank: z.object({ chisq: z.number(), df: z.number(), obs: numbers, exp: numbers }),
  }),
});

describe.each(loadCases('landmark', shape))('$id ($rCall)', ({ params, data, expected, tolerance }) => {
  const rows = { timeDays: data.time, event: data.status };
  const kept = selectAtLandmark(rows, params.landmark);

  it('agrees on the cases kept and their curve', () => {
    const curve = estimateKaplanMeier(kept);
    expect(kept.n).toBe(expected.nAtLandmark);
    expect([
      ...differences('time', curve.timeDays, expected.time, tolerance),
      ...differences('at risk', curve.atRisk, expected.nRisk, tolerance),
      ...differences('S', curve.survival, expected.surv, tolerance),
    ]).toEqual([]);
  });

  it('agrees on the conditional survival of the whole curve, with the limits of the landmark curve', () => {
    const later = params.times.map((time) => time - params.landmark);
    const points = estimateConditionalSurvival(estimateKaplanMeier(rows), params.landmark, later).map(
      estimated,
    );
    const intervals = points.map(({ interval }) => estimated(interval));
    const { stdErrSurv, 'log-log': limits } = expected.atTimes;
    const column = (key: 'standardError' | 'lower' | 'upper'): number[] => intervals.map((each) => each[key]);
    const survival = points.map((point) => point.survival);
    expect([
      ...differences('S', survival, expected.conditionalFromFullCurve, tolerance),
      ...differences('standard error', column('standardError'), stdErrSurv, tolerance),
      ...differences('lower', column('lower'), limits.lower, tolerance),
      ...differences('upper', column('upper'), limits.upper, tolerance),
    ]).toEqual([]);
  });

  it('agrees on the log-rank test of the rows kept', () => {
    const group = Array.from(kept.rows, (i) => data.group[i]);
    const test = estimated(testLogRank({ ...kept, group: codesOf(group, [...new Set(group)].sort()) }));
    const { chisq, df, obs, exp } = expected.logrank;
    const column = (key: 'observed' | 'expected'): number[] => test.groups.map((each) => each[key]);
    expect([
      ...differences('test', [test.chiSquare, test.degreesOfFreedom], [chisq, df], tolerance),
      ...differences('observed', column('observed'), obs, tolerance),
      ...differences('expected', column('expected'), exp, tolerance),
    ]).toEqual([]);
  });
});
