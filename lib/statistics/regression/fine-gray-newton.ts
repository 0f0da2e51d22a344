import { factorSymmetric, inverseQuadratic, type SymmetricFactor, solveSymmetric } from './cholesky';
import type { FineGrayDesign } from './fine-gray-design';
import { type FineGraySums, sumFineGray } from './fine-gray-sums';

export type FineGrayMaximum = {
  /** Of the scaled covariates. */
  readonly beta: Float64Array;
  readonly sums: FineGraySums;
  readonly factor: SymmetricFactor;
};

const MOST_STEPS = 60;

/** Newton's method from `start`, steps halved where the likelihood would fall; undefined when it does not settle. */
export function maximiseFineGray(design: FineGrayDesign, start: Float64Array): FineGrayMaximum | undefined {
  let beta = start;
  let sums = sumFineGray(design, beta);
  let events = 0;
  for (const count of design.events) events += count;
  for (let count = 0; count < MOST_STEPS; count += 1) {
    const factor = factorSymmetric(sums.information, design.size, Number.EPSILON, sums.raw);
    if (factor.rank < design.size) return undefined;
    const step = solveSymmetric(factor, sums.gradient);
    const last = inverseQuadratic(factor, sums.gradient) <= 1e-20 * events;
    const next = climb(design, beta, step, sums.logLikelihood);
    if (!next) return undefined;
    ({ beta, sums } = next);
    if (last)
      return { beta, sums, factor: factorSymmetric(sums.information, design.size, Number.EPSILON, sums.raw) };
  }
  return undefined;
}

function climb(
  design: FineGrayDesign,
  beta: Float64Array,
  step: Float64Array,
  from: number,
): Pick<FineGrayMaximum, 'beta' | 'sums'> | undefined {
  const least = from - 1e-11 * (1 + Math.abs(from));
  for (let part = 1; part > 1e-9; part /= 2) {
    const next = beta.map((value, j) => value + part * step[j]);
    const sums = sumFineGray(design, next);
    if (sums.logLikelihood >= least) return { beta: next, sums };
  }
  return undefined;
}
