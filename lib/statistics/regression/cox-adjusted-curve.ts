import { type NotEstimable, notEstimable } from '../absence';
import { checkFinite } from '../check-input';
import { StatisticsError } from '../errors';
import type { CoxData } from './cox-data';
import { type RestoredCox, restoreCox } from './cox-restore';
import type { CoxFit } from './cox-result';

/** One stratum's curve, by event time, ascending; before the first survival is 1. */
export type AdjustedCoxCurve = {
  readonly kind: 'estimated';
  readonly stratum: number;
  readonly timeDays: Float64Array;
  readonly survival: Float64Array;
};

/** A covariate, by its place, and the value that every row is given for it. */
export type FixedCovariate = { readonly covariate: number; readonly value: number };

/**
 * The survival that a Cox model predicts on average over the rows of the data, per stratum: as if all of them had been in
 * that stratum, and had the values in `fixed`, keeping their other covariates and offsets.
 *
 * Estimand: the mean of S(t | x_i) over the covariates of the cohort, not the survival at mean covariates.
 * Formula: sum of weight times exp(-H(t | x_i)) over sum of weights, H as in estimateCoxCurve (direct adjustment; Chang, Gelman &
 * Pagano, J Chronic Dis 1982;35:669, from memory).
 * Conventions: every row counts once, by its case weight; a case with several rows counts with each of them. Fixed
 * values of a covariate without a coefficient count through those it is a combination of: fix these instead.
 * Not estimable: the curve when the risk of some row is no number. The definitions give no standard error, so there is none: bootstrap whole fits.
 * Cost: event times x different linear predictors.
 * @throws StatisticsError as fitCox, and outOfRange (`fit`, when it is not of these data; `fixed`), notFinite (`fixed`).
 */
export function estimateAdjustedCoxCurve(
  data: CoxData,
  fit: CoxFit,
  fixed: readonly FixedCovariate[] = [],
): (AdjustedCoxCurve | NotEstimable)[] {
  checkFixed(fixed, data.covariates.length);
  const restored = restoreCox(data, fit);
  const { strataCodes, strataStart, cellTimes } = restored.design.sets;
  return strataCodes.map((stratum, s) => {
    const { risks, total } = risksIn(data, fit, restored, fixed, s);
    if (risks.has(Number.POSITIVE_INFINITY)) return notEstimable('farFromData');
    const timeDays = cellTimes.slice(strataStart[s], strataStart[s + 1]);
    let hazard = 0;
    const survival = timeDays.map((_, t) => {
      hazard += restored.cells.hazard[strataStart[s] + t];
      let sum = 0;
      for (const [risk, weight] of risks) sum += weight * Math.exp(-risk * hazard);
      return sum / total;
    });
    return { kind: 'estimated', stratum, timeDays, survival };
  });
}

function checkFixed(fixed: readonly FixedCovariate[], count: number): void {
  checkFinite(
    'fixed',
    fixed.map(({ value }) => value),
  );
  for (const [i, { covariate }] of fixed.entries()) {
    if (Number.isInteger(covariate) && covariate >= 0 && covariate < count) continue;
    const message = `fixed[${i}] names covariate ${covariate}; give the place of one of the ${count}, from 0.`;
    throw new StatisticsError('outOfRange', 'fixed', i, message);
  }
}

/** The relative risks of all rows in one stratum, each with the weight of the rows that have it. */
function risksIn(
  { timeDays, covariates, offset, weights }: CoxData,
  { estimated }: CoxFit,
  { design, coefficients }: RestoredCox,
  fixed: readonly FixedCovariate[],
  s: number,
): { readonly risks: ReadonlyMap<number, number>; readonly total: number } {
  const { columnCount: size, centre, offsetCentre } = design;
  const values = new Map(fixed.map(({ covariate, value }) => [covariate, value]));
  const risks = new Map<number, number>();
  let total = 0;
  for (let i = 0; i < timeDays.length; i += 1) {
    const weight = weights ? weights[i] : 1;
    if (weight === 0) continue;
    let eta = (offset ? offset[i] : 0) - offsetCentre[s];
    for (const [j, column] of estimated.entries())
      eta += coefficients[j] * ((values.get(column) ?? covariates[column][i]) - centre[s * size + j]);
    const risk = Math.exp(eta);
    risks.set(risk, (risks.get(risk) ?? 0) + weight);
    total += weight;
  }
  return { risks, total };
}
