import type { LogisticDesign } from './logistic-design';

/** The state of a fit at given coefficients: one value per row. Filled in place, so that each fit allocates once. */
export type LogisticRows = {
  readonly linear: Float64Array;
  /** Weight times (outcome - probability). */
  readonly residual: Float64Array;
  /** Weight times probability times (1 - probability). */
  readonly spread: Float64Array;
};

export function emptyRows(rows: number): LogisticRows {
  return {
    linear: new Float64Array(rows),
    residual: new Float64Array(rows),
    spread: new Float64Array(rows),
  };
}

/** Rows taken through all columns before the next ones: few enough to stay in the fastest memory. */
const BLOCK = 512;

/** A row this far on the wrong side has a likelihood too small for a product of several. */
const FAR = -200;
/** A product below this is turned into its logarithm before the next factor. */
const SMALL = 1e-200;
/** exp is finite up to here, and its complement is nothing beside 1. */
const LAST = 700;

/**
 * Fills the rows for these coefficients (intercept first) and returns the log likelihood. With m the log odds of the
 * outcome that a row had, 1/(1 + exp m) is the probability of the other one, exact in both tails.
 */
export function fillRows(state: LogisticRows, design: LogisticDesign, beta: Float64Array): number {
  const { linear, residual, spread } = state;
  const { rows, z, side, weights, offset } = design;
  let logLikelihood = 0;
  // Without weights one logarithm serves many rows.
  let product = 1;
  for (let from = 0; from < rows; from += BLOCK) {
    const to = Math.min(rows, from + BLOCK);
    fillLinear(linear, z, offset, beta, from, to);
    for (let i = from; i < to; i += 1) {
      const margin = side[i] * linear[i];
      const odds = Math.exp(Math.min(margin, LAST));
      const missed = 1 / (1 + odds);
      const kept = odds * missed;
      if (weights) {
        const weight = weights[i];
        residual[i] = weight * side[i] * missed;
        spread[i] = weight * kept * missed;
        logLikelihood += weight * (margin < 0 ? margin - Math.log1p(odds) : -Math.log1p(1 / odds));
        continue;
      }
      residual[i] = side[i] * missed;
      spread[i] = kept * missed;
      if (margin < FAR) logLikelihood += margin;
      else product *= kept;
      if (product < SMALL) {
        logLikelihood += Math.log(product);
        product = 1;
      }
    }
  }
  return logLikelihood + Math.log(product);
}

function fillLinear(
  linear: Float64Array,
  z: readonly Float64Array[],
  offset: Float64Array | undefined,
  beta: Float64Array,
  from: number,
  to: number,
): void {
  for (let i = from; i < to; i += 1) linear[i] = offset ? beta[0] + offset[i] : beta[0];
  for (let j = 0; j < z.length; j += 1) {
    const column = z[j];
    const b = beta[j + 1];
    for (let i = from; i < to; i += 1) linear[i] += b * column[i];
  }
}

export type LogisticSums = {
  /** Intercept first. */
  readonly gradient: Float64Array;
  /** By rows. */
  readonly information: Float64Array;
};

/** The slope of the log likelihood and its information, at the coefficients that the rows were filled for. */
export function sumRows(
  { residual, spread }: Pick<LogisticRows, 'residual' | 'spread'>,
  { rows, z }: Pick<LogisticDesign, 'rows' | 'z'>,
): LogisticSums {
  const size = z.length + 1;
  const gradient = new Float64Array(size);
  const information = new Float64Array(size * size);
  const spreadTimesColumn = new Float64Array(BLOCK);
  const pair = new Float64Array(2);
  for (let from = 0; from < rows; from += BLOCK) {
    const count = Math.min(BLOCK, rows - from);
    for (let i = from; i < from + count; i += 1) {
      gradient[0] += residual[i];
      information[0] += spread[i];
    }
    for (let j = 1; j < size; j += 1) {
      const column = z[j - 1];
      let slope = 0;
      let first = 0;
      for (let i = 0; i < count; i += 1) {
        const value = column[from + i];
        const product = spread[from + i] * value;
        spreadTimesColumn[i] = product;
        slope += residual[from + i] * value;
        first += product;
      }
      gradient[j] += slope;
      information[j * size] += first;
      for (let k = 1; k <= j; k += 2) {
        // The second of the last pair may lie past the diagonal; it is computed and left.
        multiplyBlock(pair, spreadTimesColumn, z[k - 1], z[Math.min(k, j - 1)], from, count);
        information[j * size + k] += pair[0];
        if (k < j) information[j * size + k + 1] += pair[1];
      }
    }
  }
  for (let j = 0; j < size; j += 1)
    for (let k = 0; k < j; k += 1) information[k * size + j] = information[j * size + k];
  return { gradient, information };
}

/** The sums of products with two columns at once, which takes little longer than with one. */
function multiplyBlock(
  pair: Float64Array,
  a: Float64Array,
  first: Float64Array,
  second: Float64Array,
  from: number,
  count: number,
): void {
  let left = 0;
  let right = 0;
  for (let i = 0; i < count; i += 1) {
    const value = a[i];
    left += value * first[from + i];
    right += value * second[from + i];
  }
  pair[0] = left;
  pair[1] = right;
}
