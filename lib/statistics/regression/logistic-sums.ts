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

/** Three columns at a time: the sum is then fetched and put back a third as often. */
function fillLinear(
  linear: Float64Array,
  z: readonly Float64Array[],
  offset: Float64Array | undefined,
  beta: Float64Array,
  from: number,
  to: number,
): void {
  for (let i = from; i < to; i += 1) linear[i] = offset ? beta[0] + offset[i] : beta[0];
  let j = 0;
  for (; j + 2 < z.length; j += 3) {
    const [first, second, third] = [z[j], z[j + 1], z[j + 2]];
    const [a, b, c] = [beta[j + 1], beta[j + 2], beta[j + 3]];
    for (let i = from; i < to; i += 1) linear[i] += a * first[i] + b * second[i] + c * third[i];
  }
  for (; j < z.length; j += 1) {
    const column = z[j];
    const b = beta[j + 1];
    for (let i = from; i < to; i += 1) linear[i] += b * column[i];
  }
}
