import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import {
  countsAtTicks,
  estimateKaplanMeier,
  estimateKaplanMeierByGroup,
  type KaplanMeierCurve,
  type QuantileLimit,
  type SurvivalLimits,
  survivalAt,
  survivalQuantile,
} from '@/lib/statistics';
import {
  codesOf,
  differences,
  loadCases,
  loadReference,
  type ReferenceNumber,
  referenceNumber,
  type Tolerance,
} from '../reference-cases';

const SCALES: readonly SurvivalLimits[] = ['plain', 'log', 'log-log', 'logit', 'arcsin'];
const scale = z.enum(['plain', 'log', 'log-log', 'logit', 'arcsin']);
const column = z.array(referenceNumber);
const limitColumns = z.object({ lower: column, upper: column });
const curveShape = z.object({
  time: z.array(z.number()),
  nRisk: column,
  nEvent: column,
  nCensor: column,
  surv: z.array(z.number()),
  stdErrSurv: column,
  ci: z.record(scale, limitColumns),
  quantiles: z.intersection(
    z.object({ probs: z.array(z.number()), estimate: column }),
    z.record(z.string(), z.unknown()),
  ),
  atTimes: z.looseObject({
    time: z.array(z.number()),
    nRisk: column,
    surv: z.array(z.number()),
    stdErrSurv: column,
    nEventInInterval: column,
    nCensorInInterval: column,
  }),
  n: z.number(),
  events: z.number(),
});
type Expected = z.infer<typeof curveShape>;
const params = z.object({ confLevel: z.number(), times: z.array(z.number()) });

const numberOf = (limit: QuantileLimit): number => (limit.kind === 'reached' ? limit.timeDays : Number.NaN);
const isMissing = (value: ReferenceNumber): boolean => value === null || value === 'NaN';

/** A quantile column agrees when it is missing on both sides or equal on both. */
function quantileDifferences(
  what: string,
  got: readonly number[],
  want: readonly ReferenceNumber[],
): string[] {
  return want.flatMap((value, i) =>
    (isMissing(value) && Number.isNaN(got[i])) ||
    (typeof value === 'number' && Math.abs(got[i] - value) < 1e-8)
      ? []
      : [`${what}[${i}]: got ${got[i]}, expected ${value}`],
  );
}

function compareScale(curve: KaplanMeierCurve, expected: Expected, tolerance: Tolerance): string[] {
  const { intervalFrom: from, intervalTo: to, limits } = curve;
  const { lower, upper } = expected.ci[limits];
  const { quantiles } = expected;
  const quantileLimits = limitColumns.parse(quantiles[limits]);
  const got = quantiles.probs.map((p) => survivalQuantile(curve, p));
  const estimates = got.map((q) => (q.kind === 'reached' ? q.timeDays : Number.NaN));
  const lows = got.map((q) => (q.kind === 'notEstimable' ? Number.NaN : numberOf(q.lower)));
  const highs = got.map((q) => (q.kind === 'notEstimable' ? Number.NaN : numberOf(q.upper)));
  // Where S is 0 the reference has no interval; ours ends there.
  const ending = expected.surv.indexOf(0);
  return [
    ...(to === (ending < 0 ? expected.surv.length : ending)
      ? []
      : [`intervalTo is ${to}, S = 0 from ${ending}`]),
    ...differences(`${limits} lower`, curve.lower.slice(from), lower.slice(from, to), tolerance),
    ...differences(`${limits} upper`, curve.upper.slice(from), upper.slice(from, to), tolerance),
    ...differences('standard error', curve.standardError, expected.stdErrSurv.slice(0, to), tolerance),
    ...quantileDifferences('quantile', estimates, quantiles.estimate),
    ...quantileDifferences(`${limits} quantile lower`, lows, quantileLimits.lower),
    ...quantileDifferences(`${limits} quantile upper`, highs, quantileLimits.upper),
    ...compareAtTimes(curve, expected, tolerance),
  ];
}

function compareAtTimes(curve: KaplanMeierCurve, expected: Expected, tolerance: Tolerance): string[] {
  const { atTimes } = expected;
  const { lower, upper } = limitColumns.parse(atTimes[curve.limits]);
  const points = survivalAt(curve, atTimes.time).map((point) => {
    if (point.kind === 'notEstimable') throw new Error(point.reason);
    return point;
  });
  return [
    ...differences(
      'S at',
      points.map((p) => p.survival),
      atTimes.surv,
      tolerance,
    ),
    ...differences(
      'at risk at',
      points.map((p) => p.atRisk),
      atTimes.nRisk,
      tolerance,
    ),
    ...points.flatMap(({ interval, survival, timeDays }, i) => {
      if (interval.kind === 'notEstimable') {
        return survival === 1 || (survival === 0 && isMissing(lower[i]))
          ? []
          : [`no interval at ${timeDays}`];
      }
      const got = [interval.standardError, interval.lower, interval.upper];
      return differences(
        `interval at ${timeDays}`,
        got,
        [atTimes.stdErrSurv[i], lower[i], upper[i]],
        tolerance,
      );
    }),
  ];
}

function compareCurve(
  curves: readonly KaplanMeierCurve[],
  expected: Expected,
  tolerance: Tolerance,
): string[] {
  const [curve] = curves;
  return [
    ...differences('n and events', [curve.n, curve.eventTotal], [expected.n, expected.events], tolerance),
    ...differences('time', curve.timeDays, expected.time, tolerance),
    ...differences('at risk', curve.atRisk, expected.nRisk, tolerance),
    ...differences('events', curve.events, expected.nEvent, tolerance),
    ...differences('censored', curve.censored, expected.nCensor, tolerance),
    ...differences('S', curve.survival, expected.surv, tolerance),
    ...curves.flatMap((each) => compareScale(each, expected, tolerance)),
  ];
}

const rightCensored = z.object({ time: z.array(z.number()), status: z.array(z.number()) });
const single = loadCases('kaplan_meier', z.looseObject({})).filter(({ id }) => !id.startsWith('pub-'));

describe.each(single)('$id ($rCall)', (reference) => {
  it('agrees on the curve, five kinds of limits, quantiles and values at times', () => {
    const { confLevel } = params.parse(reference.params);
    const { time, status } = rightCensored.parse(reference.data);
    const curves = SCALES.map((limits) =>
      estimateKaplanMeier({ timeDays: time, event: status }, { limits, confidenceLevel: confLevel }),
    );
    expect(compareCurve(curves, curveShape.parse(reference.expected), reference.tolerance)).toEqual([]);
  });

  it('agrees on events and censorings between the requested times', () => {
    const { times } = params.parse(reference.params);
    const { time, status } = rightCensored.parse(reference.data);
    const { atTimes } = curveShape.parse(reference.expected);
    // The reference counts through each time; a tick counts before it, so just after the time is asked for.
    const counts = countsAtTicks(
      estimateKaplanMeier({ timeDays: time, event: status }),
      times.map((t) => t + 1e-6),
    );
    const steps = (totals: Int32Array): number[] =>
      Array.from(totals, (total, i) => total - (i ? totals[i - 1] : 0));
    expect(steps(counts.eventsSoFar)).toEqual(atTimes.nEventInInterval);
    expect(steps(counts.censoredSoFar)).toEqual(atTimes.nCensorInInterval);
  });
});

describe.each(loadCases('kaplan_meier_left_truncated', z.looseObject({})))('$id ($rCall)', (reference) => {
  it('agrees with delayed entry', () => {
    const { confLevel } = params.parse(reference.params);
    const shape = z.object({
      start: z.array(z.number()),
      stop: z.array(z.number()),
      status: z.array(z.number()),
    });
    const { start, stop, status } = shape.parse(reference.data);
    const curves = SCALES.map((limits) =>
      estimateKaplanMeier(
        { timeDays: stop, event: status, entryDays: start },
        { limits, confidenceLevel: confLevel },
      ),
    );
    expect(compareCurve(curves, curveShape.parse(reference.expected), reference.tolerance)).toEqual([]);
  });
});

describe.each(loadCases('kaplan_meier_by_group', z.looseObject({})))('$id ($rCall)', (reference) => {
  it('agrees for every group', () => {
    const { confLevel } = params.parse(reference.params);
    const labels = z.array(z.union([z.string(), z.number()]));
    const { time, status, group } = rightCensored.extend({ group: labels }).parse(reference.data);
    const { groups } = z.object({ groups: z.record(z.string(), curveShape) }).parse(reference.expected);
    const names = Object.keys(groups);
    const data = { timeDays: time, event: status, group: codesOf(group, names) };
    const byScale = SCALES.map((limits) =>
      estimateKaplanMeierByGroup(data, { limits, confidenceLevel: confLevel }),
    );
    expect(byScale[0]).toHaveLength(names.length);
    for (const [g, name] of names.entries()) {
      const curves = byScale.map((all) => all[g]);
      expect(compareCurve(curves, groups[name], reference.tolerance)).toEqual([]);
    }
  });
});

it('prints the 6-MP curve and standard errors of Freireich et al., Blood 1963;21:699', () => {
  const published = loadReference(
    'pub-km-6mp',
    z.object({ data: rightCensored, printed: z.object({ values: z.record(z.string(), z.number()) }) }),
  );
  const { time, status } = published.data;
  const curve = estimateKaplanMeier({ timeDays: time, event: status });
  for (const at of [6, 7, 10, 13, 16, 22, 23]) {
    const [point] = survivalAt(curve, [at]);
    if (point.kind !== 'estimated' || point.interval.kind !== 'estimated')
      throw new Error('expected a value');
    expect(Number(point.survival.toFixed(3))).toBe(published.printed.values[`S${at}`]);
    expect(Number(point.interval.standardError.toFixed(4))).toBe(published.printed.values[`SE${at}`]);
  }
});

it('prints the curve of Collett, Modelling Survival Data in Medical Research, chapter 2 (from memory)', () => {
  const { data, printed } = loadReference(
    'pub-collett-iud',
    z.object({ data: rightCensored, printed: z.object({ values: z.record(z.string(), z.number()) }) }),
  );
  const curve = estimateKaplanMeier({ timeDays: data.time, event: data.status });
  const median = survivalQuantile(curve, 0.5);
  const got: Record<string, number> = { median: median.kind === 'reached' ? median.timeDays : Number.NaN };
  for (const week of [10, 19, 30, 36, 59, 75, 93, 97, 107]) {
    const [point] = survivalAt(curve, [week]);
    if (point.kind !== 'estimated' || point.interval.kind !== 'estimated')
      throw new Error('expected a value');
    got[`S${week}`] = Number(point.survival.toFixed(4));
    got[`SE${week}`] = Number(point.interval.standardError.toFixed(4));
  }
  expect(got).toEqual(printed.values);
});
