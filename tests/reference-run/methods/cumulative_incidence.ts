import { z } from 'zod';
import {
  type CauseIncidence,
  type CumulativeIncidence,
  estimateCumulativeIncidenceByGroup,
  type GrayData,
  type IncidenceLimits,
  incidenceAt,
  testGray,
} from '@/lib/statistics';
import { incidenceVariance } from '../incidence-variance';
import { codesOf, label, levelsOf, times } from '../survival-columns';

const shape = z.object({
  time: times,
  status: times,
  group: z.array(label).optional(),
  strata: z.array(label).optional(),
});
const params = z.object({ times: times.default([]), censorCode: z.number().default(0) });

const SCALES: Readonly<Record<string, IncidenceLimits>> = { Plain: 'plain', Log: 'log', Cloglog: 'log-log' };

export function answer(one: { readonly params: unknown; readonly data: unknown }): unknown {
  const { time: timeDays, status, group = status.map(() => 'all'), strata } = shape.parse(one.data);
  const { times: asked, censorCode } = params.parse(one.params);
  const levels = levelsOf(group);
  const causes = levelsOf(status).filter((code) => code !== censorCode);
  const data = {
    timeDays,
    status: codesOf(status, [censorCode, ...causes]),
    group: codesOf(group, levels),
  };
  const byScale = Object.values(SCALES).map((limits) => estimateCumulativeIncidenceByGroup(data, { limits }));
  const groups = levels.map((level, g) => {
    const estimates = byScale.map((all) => all[g]);
    const [{ n, timeDays: own, atRisk, eventFree }] = estimates;
    const columns = causes.map((cause, index) => [`cause_${cause}`, describeCause(estimates, index, asked)]);
    return [level, { n, time: own, nRisk: atRisk, eventFree, ...Object.fromEntries(columns) }];
  });
  const stratified = strata ? { ...data, strata: codesOf(strata, levelsOf(strata)) } : data;
  const tests = (rho: number): unknown =>
    causes.map((cause, index) => describeTest(stratified, levels.length - 1, String(cause), index + 1, rho));
  return { groups: Object.fromEntries(groups), grayTest: tests(0), grayTestRho1: tests(1) };
}

/** The other package tests all groups but one or none: where their covariance is singular it writes -1. */
function describeTest(data: GrayData, df: number, name: string, cause: number, rho: number): unknown {
  const test = testGray(data, { cause, rho });
  if (test.kind === 'tested' && test.degreesOfFreedom === df)
    return { cause: name, stat: test.chiSquare, p: test.pValue, df };
  return { cause: name, stat: -1, p: 1, df };
}

function describeCause(
  estimates: readonly CumulativeIncidence[],
  index: number,
  asked: readonly number[],
): Record<string, unknown> {
  const [estimate] = estimates;
  const curve = estimate.causes[index];
  return {
    cif: curve.incidence,
    stdErr: curve.standardError,
    nEvent: curve.events,
    atTimes: describeTimes(estimates, curve, asked),
  };
}

function describeTimes(
  estimates: readonly CumulativeIncidence[],
  { cause }: CauseIncidence,
  asked: readonly number[],
): Record<string, unknown> {
  const points = estimates.map((estimate) => incidenceAt(estimate, cause, asked));
  const [estimate] = estimates;
  const cif = points[0].map((point) => (point.kind === 'estimated' ? point.incidence : null));
  const stdErr = points[0].map((point) => {
    if (point.kind !== 'estimated') return null;
    // Without an interval the cases write a standard error of zero.
    return point.interval.kind === 'estimated' ? point.interval.standardError : 0;
  });
  // The other package says nothing beyond the last follow-up.
  const followed = points[0].map((point) => point.kind === 'estimated' && !point.beyondFollowUp);
  const limits = Object.keys(SCALES).map((name, scale) => ({
    [`lower${name}`]: points[scale].map((point) => limitOf(point, name, 'lower')),
    [`upper${name}`]: points[scale].map((point) => limitOf(point, name, 'upper')),
  }));
  return {
    time: asked,
    cif,
    stdErr,
    ...Object.assign({}, ...limits),
    estCmprsk: cif.map((value, i) => (followed[i] ? value : null)),
    varCmprsk: asked.map((time, i) => (followed[i] ? incidenceVariance(estimate, cause, time) : null)),
    varDeltaMarubiniValsecchi: stdErr.map((se) => (se === null ? null : se * se)),
  };
}

/** A limit, or what the cases write where there is none: at 0 and 1 limits of no width, where their scale has any. */
function limitOf(
  point: ReturnType<typeof incidenceAt>[number],
  scale: string,
  end: 'lower' | 'upper',
): number | null {
  if (point.kind !== 'estimated') return null;
  if (point.interval.kind === 'estimated') return point.interval[end];
  const onScale = scale === 'Plain' || (scale === 'Log' && point.incidence > 0);
  return onScale ? point.incidence : null;
}
