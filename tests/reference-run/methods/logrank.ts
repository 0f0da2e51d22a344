import { z } from 'zod';
import {
  estimateLogRankHazardRatio,
  type LogRankData,
  type LogRankTest,
  type LogRankWeighting,
  testLogRank,
  testLogRankTrend,
} from '@/lib/statistics';
import { codesOf, label, levelsOf, rowsOf, times } from '../survival-columns';

const shape = z.object({
  time: times,
  status: times,
  group: z.array(label),
  strata: z.array(label).optional(),
});
const params = z.union([z.array(z.never()), z.object({ trendScores: times.optional() })]);

const WEIGHTINGS: Readonly<Record<string, LogRankWeighting>> = {
  logrank: 'equal',
  gehanBreslow: 'gehan-breslow',
  taroneWare: 'tarone-ware',
  petoPetoLeftKM: { rho: 1, gamma: 0 },
  petoPetoModifiedAndersen: 'modified-peto-peto',
  petoPetoPrentice: 'peto-peto',
  fh_0_1: { rho: 0, gamma: 1 },
  fh_1_0: { rho: 1, gamma: 0 },
  fh_1_1: { rho: 1, gamma: 1 },
  fh_05_05: { rho: 0.5, gamma: 0.5 },
  fh_05_2: { rho: 0.5, gamma: 2 },
};

export function answer(one: { readonly params: unknown; readonly data: unknown }): unknown {
  const { time: timeDays, status: event, group, strata } = shape.parse(one.data);
  const given = params.parse(one.params);
  const scores = Array.isArray(given) ? undefined : given.trendScores;
  const groups = levelsOf(group);
  const columns = { timeDays, event, group: codesOf(group, groups) };
  const data = strata ? { ...columns, strata: codesOf(strata, levelsOf(strata)) } : columns;
  const weighted = Object.entries(WEIGHTINGS).map(([name, weighting]) => [
    name,
    weightedTest(data, weighting, scores),
  ]);
  const test = testLogRank(data);
  return {
    groups,
    logrank: countsOf(data, 'equal'),
    petoPetoRho1: countsOf(data, { rho: 1, gamma: 0 }),
    weighted: Object.fromEntries(weighted),
    ...(test.kind === 'tested' ? { hazardRatioFromLogrank: hazardRatio(test) } : {}),
  };
}

/** The test as the cases write it; without a test, only the reason. */
function countsOf(data: LogRankData, weighting: LogRankWeighting): Record<string, unknown> {
  const test = testLogRank(data, { weighting });
  if (test.kind === 'notEstimable') return { reason: test.reason };
  return {
    n: test.groups.map(({ n }) => n),
    observed: test.groups.map(({ observed }) => observed),
    expected: test.groups.map(({ expected }) => expected),
    ...statistics(test),
  };
}

function weightedTest(
  data: LogRankData,
  weighting: LogRankWeighting,
  scores: readonly number[] | undefined,
): Record<string, unknown> {
  const test = testLogRank(data, { weighting });
  if (test.kind === 'notEstimable') return { reason: test.reason };
  const result = {
    weightedObserved: test.groups.map(({ observed }) => observed),
    weightedExpected: test.groups.map(({ expected }) => expected),
    ...statistics(test),
  };
  if (!scores) return result;
  const trend = testLogRankTrend(data, scores, { weighting });
  if (trend.kind === 'notEstimable') return { ...result, trend: { scores, reason: trend.reason } };
  return { ...result, trend: { scores, z: trend.z, chisq: trend.chiSquare, p: trend.pValue } };
}

function statistics(test: LogRankTest): Record<string, unknown> {
  return {
    var: rowsOf(test.covariance, test.groups.length),
    chisq: test.chiSquare,
    df: test.degreesOfFreedom,
    p: test.pValue,
  };
}

function hazardRatio(test: LogRankTest): Record<string, unknown> {
  const ratio = estimateLogRankHazardRatio(test);
  if (ratio.kind === 'notEstimable') return { reason: ratio.reason };
  // A ratio of rates with no event on one side has no estimate; the cases write its limit.
  const limit = test.groups[ratio.group].observed === 0 ? 0 : 'Inf';
  return {
    OEratio: [typeof ratio.rateRatio === 'number' ? ratio.rateRatio : limit],
    petoOneStep: [ratio.hazardRatio],
    petoLower: [ratio.lower],
    petoUpper: [ratio.upper],
    conservativeChisqOE: ratio.conservativeChiSquare,
  };
}
