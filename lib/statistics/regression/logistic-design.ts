import type { Column } from '../check-input';
import { factorSymmetric, solveSymmetric } from './cholesky';
import { sumWeighted } from './weighted-sums';

export type LogisticData = {
  /** 1 or 0 per row. */
  readonly outcome: Column;
  /** Any number of columns, none included; the intercept is added. */
  readonly covariates: readonly Column[];
  /** Case weights of zero or more. */
  readonly weights?: Column;
  /** Added to the linear predictor with a coefficient of 1. */
  readonly offset?: Column;
};

/**
 * What the likelihood is computed from. Covariates are centred at their weighted mean and divided by their range, so
 * that sums of products lose no digits; columns that repeat earlier ones are left out.
 */
export type LogisticDesign = {
  readonly rows: number;
  /** The covariates kept, ascending. */
  readonly kept: readonly number[];
  /** One array per covariate kept, in the order of `kept`. */
  readonly z: readonly Float64Array[];
  readonly centre: readonly number[];
  readonly scale: readonly number[];
  /** Least squares of log odds of 3 to 1 for what happened, one step of Newton's method on; intercept first. */
  readonly start: Float64Array;
  /** 1 where the row had the outcome, -1 where it had not. */
  readonly side: Float64Array;
  readonly weights: Float64Array | undefined;
  readonly offset: Float64Array | undefined;
};

/** A column whose values differ by no more than this, relative to their size, is constant but for rounding. */
const ROUNDING = 2 ** -40;
/** A column is a combination of others when what they leave of its sum of squares is a part this small. */
const COLLINEAR = 1e-11;

/** Log odds of 3 to 1 for what happened, moved by (outcome - probability)/(probability (1 - probability)). */
const FIRST_LOG_ODDS = Math.log(3) + 4 / 3;

/** Columns checked before. */
export function buildLogisticDesign(data: LogisticData): LogisticDesign {
  const { outcome, covariates } = data;
  const rows = outcome.length;
  const weights = data.weights && Float64Array.from(data.weights);
  const offset = data.offset && Float64Array.from(data.offset);
  const side = new Float64Array(rows);
  for (let i = 0; i < rows; i += 1) side[i] = 2 * outcome[i] - 1;
  const all = covariates.map((column) => standardise(column, weights));
  const spread = weights ?? new Float64Array(rows).fill(1);
  const residual = new Float64Array(rows);
  for (let i = 0; i < rows; i += 1)
    residual[i] = spread[i] * (FIRST_LOG_ODDS * side[i] - (offset ? offset[i] : 0));
  const sums = sumWeighted(
    residual,
    spread,
    all.map(({ z }) => z),
  );
  const factor = factorSymmetric(sums.information, all.length + 1, COLLINEAR);
  const kept = Array.from(all.keys()).filter((j) => factor.dropped[j + 1] === 0);
  const start = solveSymmetric(factor, sums.gradient);
  return {
    rows,
    kept,
    z: kept.map((j) => all[j].z),
    centre: kept.map((j) => all[j].centre),
    scale: kept.map((j) => all[j].scale),
    start: Float64Array.from([0, ...kept.map((j) => j + 1)], (k) => start[k]),
    ...{ side, weights, offset },
  };
}

/** Every `step`-th row of a design. */
export function thinDesign(design: LogisticDesign, step: number): LogisticDesign {
  const rows = Math.floor(design.rows / step);
  const thin = (column: Float64Array): Float64Array => {
    const thinned = new Float64Array(rows);
    for (let i = 0; i < rows; i += 1) thinned[i] = column[i * step];
    return thinned;
  };
  return {
    ...design,
    rows,
    z: design.z.map(thin),
    side: thin(design.side),
    weights: design.weights && thin(design.weights),
    offset: design.offset && thin(design.offset),
  };
}

type Standardised = { readonly z: Float64Array; readonly centre: number; readonly scale: number };

function standardise(column: Column, weights: Float64Array | undefined): Standardised {
  const rows = column.length;
  const { sum, total, least, most } = weights ? summariseUsed(column, weights) : summarise(column);
  const centre = sum / total;
  const range = most - least;
  const z = new Float64Array(rows);
  // All zeros: such a column repeats the intercept and is left out.
  if (range <= ROUNDING * Math.max(Math.abs(least), Math.abs(most))) return { z, centre, scale: 1 };
  const factor = 1 / range;
  for (let i = 0; i < rows; i += 1) z[i] = (column[i] - centre) * factor;
  return { z, centre, scale: range };
}

type Summary = {
  readonly sum: number;
  readonly total: number;
  readonly least: number;
  readonly most: number;
};

/** Over the rows of a weight above 0. */
function summariseUsed(column: Column, weights: Float64Array): Summary {
  let sum = 0;
  let total = 0;
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < column.length; i += 1) {
    const weight = weights[i];
    if (weight === 0) continue;
    const value = column[i];
    sum += weight * value;
    total += weight;
    if (value < least) least = value;
    if (value > most) most = value;
  }
  return { sum, total, least, most };
}

/** The same for weights of 1, in half of the time. */
function summarise(column: Column): Summary {
  let sum = 0;
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < column.length; i += 1) {
    const value = column[i];
    sum += value;
    if (value < least) least = value;
    if (value > most) most = value;
  }
  return { sum, total: column.length, least, most };
}
