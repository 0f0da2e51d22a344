import { z } from 'zod';
import {
  type ArmCount,
  type ChiSquareTest,
  estimateOddsRatio,
  estimateRiskDifference,
  estimateRiskRatio,
  type NotEstimable,
  type OddsRatio,
  type RiskDifferenceLimits,
  type RiskRatioLimits,
  testFisherExact,
  testPearsonChiSquare,
} from '@/lib/statistics';
import { tableDistribution, tableTails } from '@/lib/statistics/proportions/table-distribution';
import { asFisherTestStops } from '../loose-root';

const shape = z.object({ x1: z.number(), n1: z.number(), x2: z.number(), n2: z.number() });
const params = z.looseObject({ confLevel: z.number().optional() });

export function answer(one: { readonly params: unknown; readonly data: unknown }): unknown {
  const { x1, n1, x2, n2 } = shape.parse(one.data);
  const first = { events: x1, n: n1 };
  const second = { events: x2, n: n2 };
  const { confLevel: confidenceLevel = 0.95 } = params.parse(one.params);
  const table = [
    [x1, n1 - x1],
    [x2, n2 - x2],
  ];
  return {
    p1: x1 / n1,
    p2: x2 / n2,
    diff: differences(first, second, confidenceLevel),
    ratio: ratios(first, second, confidenceLevel),
    odds: odds(first, second, confidenceLevel),
    fisher: fisher(first, second, confidenceLevel),
    pearson: chiSquare(testPearsonChiSquare(table)),
    yates: chiSquare(testPearsonChiSquare(table, { continuityCorrection: true })),
  };
}

/** Infinity as the cases write it. */
function written(value: number): number | string {
  return value === Number.POSITIVE_INFINITY ? 'Inf' : value;
}

function differences(first: ArmCount, second: ArmCount, confidenceLevel: number): unknown {
  const limitsOf = (limits: RiskDifferenceLimits): unknown => {
    const found = estimateRiskDifference(first, second, { limits, confidenceLevel });
    return found.kind === 'estimated' ? { lower: found.lower, upper: found.upper } : null;
  };
  const found = estimateRiskDifference(first, second, { limits: 'wald', confidenceLevel });
  if (found.kind === 'notEstimable') return { reason: found.reason };
  return {
    est: found.difference,
    wald: { se: found.standardError, lower: found.lower, upper: found.upper },
    agrestiCaffo: limitsOf('agrestiCaffo'),
    newcombe10: limitsOf('newcombe'),
    newcombe11cc: limitsOf('newcombeCorrected'),
    miettinenNurminen: limitsOf('miettinenNurminen'),
    mee: limitsOf('mee'),
  };
}

function ratios(first: ArmCount, second: ArmCount, confidenceLevel: number): unknown {
  const limitsOf = (limits: RiskRatioLimits): unknown => {
    const found = estimateRiskRatio(first, second, { limits, confidenceLevel });
    // Without any event the cases write the limits that exclude nothing.
    if (found.kind === 'notEstimable') return { lower: 0, upper: 'Inf' };
    return { lower: found.lower, upper: written(found.upper) };
  };
  const katz = estimateRiskRatio(first, second, { limits: 'katz', confidenceLevel });
  const score = estimateRiskRatio(first, second, { confidenceLevel });
  return {
    katz: {
      rr: score.kind === 'estimated' ? written(score.ratio) : null,
      ...(katz.kind === 'estimated'
        ? { seLog: katz.logStandardError, lower: katz.lower, upper: katz.upper }
        : { seLog: null, lower: null, upper: null }),
    },
    koopman: limitsOf('koopman'),
    miettinenNurminenRatio: limitsOf('miettinenNurminen'),
  };
}

function odds(first: ArmCount, second: ArmCount, confidenceLevel: number): unknown {
  const woolf = estimateOddsRatio(first, second, { limits: 'woolf', confidenceLevel });
  const half = estimateOddsRatio(first, second, { limits: 'haldaneAnscombe', confidenceLevel });
  if (half.kind === 'notEstimable') return { reason: half.reason };
  // With an empty cell the cases write the bare cross product: 0, Inf or NaN.
  const cross = (first.events * (second.n - second.events)) / (second.events * (first.n - first.events));
  return {
    woolf:
      woolf.kind === 'estimated'
        ? { or: woolf.ratio, seLog: woolf.logStandardError, lower: woolf.lower, upper: woolf.upper }
        : { or: Number.isNaN(cross) ? null : written(cross), seLog: null, lower: null, upper: null },
    haldaneAnscombe: { or: half.ratio, lower: half.lower, upper: half.upper },
  };
}

function fisher(first: ArmCount, second: ArmCount, confidenceLevel: number): unknown {
  const test = testFisherExact(first, second);
  if (test.kind === 'notEstimable') return { reason: test.reason };
  const ratio = estimateOddsRatio(first, second, { limits: 'conditional', confidenceLevel });
  return {
    p: test.pValue,
    pGreater: test.pGreater,
    pLess: test.pLess,
    // Where the totals allow one table only, fisher.test prints 0 with limits 0 and Inf.
    ...(ratio.kind === 'estimated' ? asPrinted(ratio, first, second) : { condOR: 0, lower: 0, upper: 'Inf' }),
  };
}

function asPrinted(
  { ratio, lower, upper, confidenceLevel }: OddsRatio,
  first: ArmCount,
  second: ArmCount,
): Record<string, unknown> {
  const { events } = first;
  const tail = (1 - confidenceLevel) / 2;
  const mean = (oddsRatio: number): number => {
    const { lowest, probability } = tableDistribution(first, second, oddsRatio);
    return probability.reduce((sum, p, i) => sum + p * (lowest + i), 0);
  };
  const tails = (oddsRatio: number): { lower: number; upper: number } =>
    tableTails(tableDistribution(first, second, oddsRatio), events);
  return {
    condOR: written(asFisherTestStops(ratio, (t) => mean(t) - events)),
    lower: asFisherTestStops(lower, (t) => tails(t).upper - tail),
    upper: written(asFisherTestStops(upper, (t) => tails(t).lower - tail)),
  };
}

function chiSquare(test: ChiSquareTest | NotEstimable): unknown {
  return test.kind === 'tested' ? { chisq: test.chiSquare, p: test.pValue } : { chisq: null, p: null };
}
