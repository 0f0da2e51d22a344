import type { Column } from '../check-input';
import { factorSymmetric } from './cholesky';

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
  /** 1 where the row had the outcome, -1 where it had not. */
  readonly side: Float64Array;
  readonly weights: Float64Array | undefined;
  readonly offset: Float64Array | undefined;
};

/** A column whose values differ by no more than this, relative to their size, is constant but for rounding. */
const ROUNDING = 2 ** -40;
/** A column is a combination of others when what they leave of its sum of squares is a part this small. */
const COLLINEAR = 1e-11;

/** Columns checked before. */
export function buildLogisticDesign(data: LogisticData): LogisticDesign {
  const { outcome, covariates } = data;
  const weights = data.weights && Float64Array.from(data.weights);
  const side = new Float64Array(outcome.length);
  for (let i = 0; i < side.length; i += 1) side[i] = 2 * outcome[i] - 1;
  const all = covariates.map((column) => standardise(column, weights));
  const kept = independentColumns(all, weights);
  return {
    rows: outcome.length,
    kept,
    z: kept.map((j) => all[j].z),
    centre: kept.map((j) => all[j].centre),
    scale: kept.map((j) => all[j].scale),
    ...{ side, weights },
    offset: data.offset && Float64Array.from(data.offset),
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
  let sum = 0;
  let total = 0;
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < rows; i += 1) {
    const weight = weights ? weights[i] : 1;
    if (weight === 0) continue;
    const value = column[i];
    sum += weight * value;
    total += weight;
    if (value < least) least = value;
    if (value > most) most = value;
  }
  const centre = sum / total;
  const range = most - least;
  const z = new Float64Array(rows);
  // All zeros: such a column repeats the intercept and is left out.
  if (range <= ROUNDING * Math.max(Math.abs(least), Math.abs(most))) return { z, centre, scale: 1 };
  const factor = 1 / range;
  for (let i = 0; i < rows; i += 1) z[i] = (column[i] - centre) * factor;
  return { z, centre, scale: range };
}

/** The columns that are no combination of the intercept and the columns before them. */
function independentColumns(all: readonly Standardised[], weights: Float64Array | undefined): number[] {
  const size = all.length;
  const products = new Float64Array(size * size);
  for (let j = 0; j < size; j += 1)
    for (let k = 0; k <= j; k += 1) products[j * size + k] = weightedProduct(all[j].z, all[k].z, weights);
  const { dropped } = factorSymmetric(products, size, COLLINEAR);
  return Array.from(dropped.keys()).filter((j) => dropped[j] === 0);
}

function weightedProduct(a: Float64Array, b: Float64Array, weights: Float64Array | undefined): number {
  let sum = 0;
  if (weights) for (let i = 0; i < a.length; i += 1) sum += weights[i] * a[i] * b[i];
  else for (let i = 0; i < a.length; i += 1) sum += a[i] * b[i];
  return sum;
}
