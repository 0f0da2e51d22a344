import { z } from 'zod';
import {
  deriveBalancingWeights,
  estimateBalance,
  estimateCStatistic,
  estimateEffectiveSampleSize,
  estimateWeightedDifference,
  fitLogisticRegression,
  type LogisticFit,
  type NotEstimable,
} from '@/lib/statistics';
import { rowsOf, times } from '../survival-columns';

const data = z.looseObject({
  treat: times,
  outcome: times.optional(),
  weights: times.optional(),
  offset: times.optional(),
});
const params = z.object({
  covariates: z.union([z.string().transform((name) => [name]), z.array(z.string())]),
});

const KINDS = {
  ate: { estimand: 'ate' },
  ateStabilized: { estimand: 'ate', stabilised: true },
  att: { estimand: 'att' },
  atc: { estimand: 'atc' },
  overlap: { estimand: 'overlap' },
  matching: { estimand: 'matching' },
} as const;

export function answer(one: { readonly data: unknown; readonly params: unknown }): unknown {
  const { covariates: names } = params.parse(one.params);
  const { treat: treated, outcome, weights, offset, ...rest } = data.parse(one.data);
  const covariates = names.map((name) => times.parse(rest[name]));
  const fit = fitLogisticRegression({
    outcome: treated,
    covariates,
    ...(weights ? { weights } : {}),
    ...(offset ? { offset } : {}),
  });
  if (fit.kind === 'notEstimable') throw new Error(fit.reason);
  const cStatistic = estimateCStatistic({
    outcome: treated,
    marker: fit.fitted,
    ...(weights ? { weights } : {}),
  });
  const sets = weightsOf(treated, fit.fitted);
  const each = (answerTo: (set: readonly number[]) => unknown): Record<string, unknown> =>
    Object.fromEntries(Object.entries(sets).map(([name, set]) => [name, answerTo(set)]));
  const balance = (set?: readonly number[]): unknown => balanceOf(treated, names, covariates, set);
  return {
    ...coefficientsOf(fit, names),
    cStatistic: cStatistic.kind === 'estimated' ? cStatistic.cStatistic : null,
    weights: sets,
    ess: each((set) => {
      const [control, own] = estimateEffectiveSampleSize({ weights: set, group: treated });
      return { treated: own, control };
    }),
    balance: { unweighted: balance(), ...each(balance) },
    effects: outcome && each((set) => effectOf(outcome, treated, set)),
  };
}

function coefficientsOf(fit: LogisticFit, names: readonly string[]): Record<string, unknown> {
  const terms = [fit.intercept, ...fit.terms];
  const kept = terms.flatMap((term) => (term.kind === 'estimated' ? [term] : []));
  return {
    coefNames: ['(Intercept)', ...names],
    coef: terms.map((term) => (term.kind === 'estimated' ? term.coefficient : null)),
    se: kept.map((term) => term.standardError),
    z: kept.map((term) => term.z),
    p: kept.map((term) => term.pValue),
    vcov: rowsOf(fit.covariance, kept.length),
    deviance: fit.deviance,
    nullDeviance: fit.nullDeviance,
    aic: fit.aic,
    loglik: fit.logLikelihood,
    ps: fit.fitted,
  };
}

function weightsOf(treated: number[], propensity: Float64Array): Record<string, number[]> {
  return Object.fromEntries(
    Object.entries(KINDS).map(([name, options]) => {
      const derived = deriveBalancingWeights({ treated, propensity }, options);
      if (derived.kind === 'notEstimable') throw new Error(derived.reason);
      return [name, Array.from(derived.weights)];
    }),
  );
}

function balanceOf(
  treated: number[],
  names: readonly string[],
  covariates: readonly number[][],
  weights: readonly number[] | undefined,
): unknown {
  const found = estimateBalance({ treated, covariates, ...(weights ? { weights } : {}) });
  if ('kind' in found) throw new Error(found.reason);
  return Object.fromEntries(
    found.map((one, j) => [
      names[j],
      {
        mean1: one.treatedMean,
        mean0: one.controlMean,
        smdUnweightedSd: numberOrNull(one.standardisedDifference),
        smdWeightedSd: numberOrNull(one.differenceByWeightedSpread),
        varRatio: numberOrNull(one.varianceRatio),
      },
    ]),
  );
}

function effectOf(outcome: number[], treated: number[], weights: readonly number[]): unknown {
  const found = estimateWeightedDifference({ outcome, treated, weights });
  if (found.kind === 'notEstimable') throw new Error(found.reason);
  return {
    mean1: found.treatedMean,
    mean0: found.controlMean,
    diff: found.difference,
    seSandwichSvy: found.interval.kind === 'estimated' ? found.interval.standardError : 0,
  };
}

function numberOrNull(value: number | NotEstimable | undefined): number | null {
  return typeof value === 'number' ? value : null;
}
