import { factorSymmetric, inverseQuadratic, type SymmetricFactor, solveSymmetric } from './cholesky';
import { type LogisticDesign, thinDesign } from './logistic-design';
import { emptyRows, fillRows, type LogisticRows } from './logistic-sums';
import { separates } from './separation';
import { sumWeighted } from './weighted-sums';

export type LogisticSolution =
  | { readonly kind: 'separation' }
  | { readonly kind: 'noConvergence' }
  | {
      readonly kind: 'converged';
      /** Of the standardised covariates, intercept first. */
      readonly beta: Float64Array;
      readonly factor: SymmetricFactor;
      readonly logLikelihood: number;
      readonly state: LogisticRows;
    };

/** A fit with a maximum is there in some six steps; from here on one without is looked for. */
const PATIENCE = 8;
const MOST_STEPS = 60;
/** From this many rows on a first fit to one row in sixteen saves more than it costs. */
const LARGE = 1 << 16;
const THINNING = 16;

/**
 * The maximum of the log likelihood by Newton's method (which here is iteratively reweighted least squares), steps halved
 * where it would fall. It ends when the next step would lower the deviance by 1e-14 of it; that step is taken, which
 * squares what is left of the distance, and the information is that of its weights (as in R's glm, whose first step
 * and stopping rule with epsilon = 1e-14 these are). Where offsets lead the first step astray, it starts again from 0.
 */
export function maximiseLogistic(design: LogisticDesign): LogisticSolution {
  const found = climbFrom(design, startOf(design) ?? design.start);
  return found.kind === 'noConvergence' ? climbFrom(design, new Float64Array(design.z.length + 1)) : found;
}

function climbFrom(design: LogisticDesign, start: Float64Array): LogisticSolution {
  const state = emptyRows(design.rows);
  let beta = start;
  let logLikelihood = fillRows(state, design, beta);
  for (let count = 0; count < MOST_STEPS; count += 1) {
    const { gradient, information } = sumWeighted(state.residual, state.spread, design.z);
    const factor = factorSymmetric(information, beta.length, Number.EPSILON);
    if (factor.rank < beta.length) break;
    const step = solveSymmetric(factor, gradient);
    const distance = inverseQuadratic(factor, gradient);
    if (count >= PATIENCE && separates(design, step)) return { kind: 'separation' };
    if (distance <= 1e-14 * (0.1 - 2 * logLikelihood)) {
      beta = beta.map((b, j) => b + step[j]);
      logLikelihood = fillRows(state, design, beta);
      return { kind: 'converged', beta, factor, logLikelihood, state };
    }
    const next = climb(state, design, beta, step, logLikelihood);
    if (!next) break;
    beta = next.beta;
    logLikelihood = next.logLikelihood;
  }
  return { kind: separates(design, beta) ? 'separation' : 'noConvergence' };
}

/** The step, halved until the likelihood no longer falls (but for rounding). */
function climb(
  state: LogisticRows,
  design: LogisticDesign,
  beta: Float64Array,
  step: Float64Array,
  from: number,
): { readonly beta: Float64Array; readonly logLikelihood: number } | undefined {
  const least = from - 1e-11 * (1 + Math.abs(from));
  for (let part = 1; part > 1e-9; part /= 2) {
    const next = beta.map((b, j) => b + part * step[j]);
    const logLikelihood = fillRows(state, design, next);
    if (logLikelihood >= least) return { beta: next, logLikelihood };
  }
  return undefined;
}

/** Where a fit to some of the rows ends; undefined when there are too few to be worth it, or it does not end. */
function startOf(design: LogisticDesign): Float64Array | undefined {
  if (design.rows < LARGE) return undefined;
  const found = maximiseLogistic(thinDesign(design, THINNING));
  return found.kind === 'converged' ? found.beta : undefined;
}
