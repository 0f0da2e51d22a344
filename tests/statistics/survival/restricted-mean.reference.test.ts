import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import {
  estimateKaplanMeier,
  estimateKaplanMeierByGroup,
  estimateRestrictedMean,
  estimateRestrictedMeanContrast,
  type RestrictedMean,
  survivalAt,
  survivalQuantile,
} from '@/lib/statistics';
import { codesOf, differences, loadCases, loadReference } from '../reference-cases';
import { estimated } from './estimated';

const numbers = z.array(z.number());
const label = z.union([z.string(), z.number()]);
const arm = z.object({
  rmst: z.number(),
  se: z.number(),
  lower: z.number(),
  upper: z.number(),
  rmtl: z.number(),
});
const data = z.object({ time: numbers, status: numbers, group: z.array(label) });
const contrastShape = z.object({
  difference: z.object({
    est: z.number(),
    se: z.number(),
    lower: z.number(),
    upper: z.number(),
    z: z.number(),
    p: z.number(),
  }),
  ratio: z.object({ est: z.number(), lower: z.number(), upper: z.number(), p: z.number() }),
});

const cases = loadCases('rmst', z.looseObject({})).filter(({ id }) => !id.startsWith('pub-'));

describe.each(cases)('$id ($rCall)', (reference) => {
  it('agrees on means, limits, difference and ratio', () => {
    const { taus } = z.object({ taus: numbers }).parse(reference.params);
    const { time, status, group } = data.parse(reference.data);
    const levels = [...new Set(group)].sort();
    const curves = estimateKaplanMeierByGroup({
      timeDays: time,
      event: status,
      group: codesOf(group, levels),
    });
    const wrong = taus.flatMap((tau) => {
      const expected = z
        .record(z.string(), z.unknown())
        .parse(z.looseObject({}).parse(reference.expected)[`tau_${tau}`]);
      const means = curves.map((curve) => estimated(estimateRestrictedMean(curve, tau)));
      const byGroup = means.flatMap((mean, g) => {
        const want = arm.parse(expected[`group_${levels[g]}`]);
        const { standardError, lower, upper } = estimated(mean.interval);
        const got = [mean.meanDays, standardError, lower, upper, mean.lostDays];
        const wanted = [want.rmst, want.se, want.lower, want.upper, want.rmtl];
        return differences(`${levels[g]} to ${tau}`, got, wanted, reference.tolerance);
      });
      const contrast = estimateRestrictedMeanContrast(means[0], means[1]);
      const { difference, ratio } = contrastShape.parse(expected);
      const d = estimated(contrast.difference);
      const r = estimated(contrast.ratio);
      return [
        ...byGroup,
        ...differences(
          `difference to ${tau}`,
          [d.estimate, d.standardError, d.lower, d.upper, d.z, d.pValue],
          [difference.est, difference.se, difference.lower, difference.upper, difference.z, difference.p],
          reference.tolerance,
        ),
        ...differences(
          `ratio to ${tau}`,
          [r.estimate, r.lower, r.upper, r.pValue],
          [ratio.est, ratio.lower, ratio.upper, ratio.p],
          reference.tolerance,
        ),
      ];
    });
    expect(wrong).toEqual([]);
  });
});

const printed = z.object({ values: z.record(z.string(), z.number()) });
const to = (digits: number, value: number): number => Number(value.toFixed(digits));

it('prints the ten-year means of the survRM2 vignette, section 3.1', () => {
  const shape = z.object({ data: z.object({ timeYears: numbers, status: numbers, arm: numbers }), printed });
  const { data: rows, printed: page } = loadReference('pub-rmst-pbc', shape);
  const curves = estimateKaplanMeierByGroup({
    timeDays: rows.timeYears,
    event: rows.status,
    group: rows.arm,
  });
  const [control, treated] = curves.map((curve) => estimated(estimateRestrictedMean(curve, 10)));
  const { difference, ratio, lostRatio } = estimateRestrictedMeanContrast(control, treated);
  const [d, r, lost] = [estimated(difference), estimated(ratio), estimated(lostRatio)];
  const errorOf = (mean: RestrictedMean): number => estimated(mean.interval).standardError;
  expect({
    rmst1: to(3, treated.meanDays),
    se1: to(3, errorOf(treated)),
    rmst0: to(3, control.meanDays),
    se0: to(3, errorOf(control)),
    diff: to(3, d.estimate),
    lower: to(3, d.lower),
    upper: to(3, d.upper),
    p: to(3, d.pValue),
    ratio: to(3, r.estimate),
    ratioLower: to(3, r.lower),
    ratioUpper: to(3, r.upper),
    rmtlRatio: to(2, lost.estimate),
    rmtlLower: to(3, lost.lower),
    rmtlUpper: to(3, lost.upper),
  }).toEqual(page.values);
});

it('prints the two-year means of the main vignette of the survival package, section 2.1', () => {
  const { data: rows, printed: page } = loadReference('pub-ovarian-rmean', z.object({ data, printed }));
  const curveOf = (name: number) => {
    const own = [...rows.group.keys()].filter((i) => rows.group[i] === name);
    const columns = { timeDays: own.map((i) => rows.time[i]), event: own.map((i) => rows.status[i]) };
    return estimateKaplanMeier(columns, { limits: 'log' });
  };
  const [first, second] = [curveOf(1), curveOf(2)];
  const [mean1, mean2] = [first, second].map((curve) => estimated(estimateRestrictedMean(curve, 730)));
  const quantiles = [first, second].map((curve) => estimated(survivalQuantile(curve, 0.5)));
  const dayOf = (limit: { kind: string; timeDays?: number }): number | undefined => limit.timeDays;
  const at = (curve: typeof first, day: number) => estimated(survivalAt(curve, [day])[0]);
  const intervalAt = (curve: typeof first, day: number) => estimated(at(curve, day).interval);
  expect({
    rmst1: to(0, mean1.meanDays),
    se1: to(1, estimated(mean1.interval).standardError),
    rmst2: to(0, mean2.meanDays),
    se2: to(1, estimated(mean2.interval).standardError),
    median2: dayOf(quantiles[1]),
    lcl1: dayOf(quantiles[0].lower),
    lcl2: dayOf(quantiles[1].lower),
    S1_365: to(3, at(first, 365).survival),
    SE1_365: to(4, intervalAt(first, 365).standardError),
    S1_730: to(3, at(first, 730).survival),
    SE1_730: to(4, intervalAt(first, 730).standardError),
    S2_182: to(3, at(second, 182).survival),
    S2_365: to(3, at(second, 365).survival),
    S2_730: to(3, at(second, 730).survival),
    SE2_730: to(3, intervalAt(second, 730).standardError),
    L2_365: to(3, intervalAt(second, 365).lower),
    U2_365: to(3, intervalAt(second, 365).upper),
  }).toEqual(page.values);
});
