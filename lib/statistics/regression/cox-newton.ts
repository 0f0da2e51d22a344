import { factorSymmetric, inverseQuadratic, type SymmetricFactor, solveSymmetric } from './cholesky';
import { type CoxCells, type CoxTies, emptyCells, fillCells } from './cox-cells';
import { type CoxDesign, selectColumns } from './cox-design';
import { findRecession, type Recession } from './cox-recession';
import { type CoxSums, sumOverEvents } from './cox-sums';

/** The model before anything is fitted. */
export type CoxNull = {
  readonly logLikelihood: number;
  readonly information: Float64Array;
  /** Of the information, in the order of the columns: dropped ones add nothing to those before them. */
  readonly factor: SymmetricFactor;
  /** The score statistic, on `factor.rank` degrees of freedom. */
  readonly score: number;
};

type SolutionBasis = { readonly null: CoxNull; readonly kept: readonly number[] };

export type CoxSolution = SolutionBasis &
  (
    | { readonly kind: 'noInformation' }
    | { readonly kind: 'noConvergence' }
    | { readonly kind: 'recession'; readonly design: CoxDesign; readonly recession: Recession }
    | {
        readonly kind: 'converged';
        /** The columns kept. */
        readonly design: CoxDesign;
        /** Of the scaled covariates kept. */
        readonly beta: Float64Array;
        readonly cells: CoxCells;
        readonly factor: SymmetricFactor;
        readonly logLikelihood: number;
      }
  );

/** A column is a combination of others when what they leave of its sum of squares is a part this small. */
const COLLINEAR = 1e-11;
/** A fit with a maximum is there in some five steps; from here on one without is looked for. */
const PATIENCE = 8;
const MOST_STEPS = 60;

/**
 * The maximum of the log partial likelihood by Newton's method from 0, steps halved where it would fall. It ends when the squared distance to the maximum, in units of the information, is
 * 1e-20 per event: coefficients in units of their covariate's spread are then right to 1e-10, before the last step.
 */
export function maximiseCox(full: CoxDesign, ties: CoxTies): CoxSolution {
  const nothing = evaluate(full, emptyCells(full, ties), new Float64Array(full.columnCount));
  const ofNull = nullModel(full, nothing);
  const kept = Array.from(ofNull.factor.dropped.keys()).filter((j) => ofNull.factor.dropped[j] === 0);
  const basis = { null: ofNull, kept };
  if (kept.length === 0) return { kind: 'noInformation', ...basis };
  const reduced = kept.length < full.columnCount;
  const design = reduced ? selectColumns(full, kept) : full;
  const size = kept.length;
  let beta: Float64Array = new Float64Array(size);
  let cells = reduced ? emptyCells(design, ties) : nothing.cells;
  let here = reduced ? evaluate(design, cells, beta) : nothing;
  let events = 0;
  for (const weight of design.sets.eventWeights) events += weight;
  let lastStep: Float64Array | undefined;
  for (let count = 0; count < MOST_STEPS; count += 1) {
    const { gradient, information, raw } = here.sums;
    const factor = factorSymmetric(information, size, Number.EPSILON, raw);
    // Numbers have become too large, or too small, to go on from: the last step shows where it went.
    if (factor.rank < size) return lostWay(design, basis, lastStep);
    const step = solveSymmetric(factor, gradient);
    const distance = inverseQuadratic(factor, gradient);
    if (distance <= 1e-20 * events) {
      const last = beta.map((b, j) => b + step[j]);
      return {
        kind: 'converged',
        ...basis,
        design,
        beta: last,
        cells,
        factor,
        logLikelihood: here.logLikelihood,
      };
    }
    const recession = count >= PATIENCE ? findRecession(design, step) : undefined;
    if (recession) return { kind: 'recession', ...basis, design, recession };
    const next = climb(design, cells, beta, step, here.logLikelihood);
    if (!next) return lostWay(design, basis, step);
    lastStep = step;
    beta = next.beta;
    cells = next.cells;
    here = { ...next, sums: sumOverEvents(cells, design) };
  }
  return lostWay(design, basis, lastStep);
}

/** Without a next step there is still the question whether the last one led to a maximum at all. */
function lostWay(design: CoxDesign, basis: SolutionBasis, step: Float64Array | undefined): CoxSolution {
  const recession = step && findRecession(design, step);
  return recession ? { kind: 'recession', ...basis, design, recession } : { kind: 'noConvergence', ...basis };
}

type Evaluation = { readonly logLikelihood: number; readonly cells: CoxCells; readonly sums: CoxSums };

function evaluate(design: CoxDesign, cells: CoxCells, beta: Float64Array): Evaluation {
  const logLikelihood = logLikelihoodAt(design, cells, beta);
  return { logLikelihood, cells, sums: sumOverEvents(cells, design) };
}

function nullModel(design: CoxDesign, { logLikelihood, sums }: Evaluation): CoxNull {
  const { gradient, information, raw } = sums;
  const factor = factorSymmetric(information, design.columnCount, COLLINEAR, raw);
  return { logLikelihood, information, factor, score: inverseQuadratic(factor, gradient) };
}

/** Leaves the cells filled for these coefficients. */
function logLikelihoodAt(design: CoxDesign, cells: CoxCells, beta: Float64Array): number {
  const { linear, offsetSum } = design.eventSums;
  let sum = offsetSum + fillCells(cells, design, beta);
  for (let j = 0; j < beta.length; j += 1) sum += beta[j] * linear[j];
  return sum;
}

/** The step, halved until the likelihood no longer falls (but for rounding). */
function climb(
  design: CoxDesign,
  cells: CoxCells,
  beta: Float64Array,
  step: Float64Array,
  from: number,
): { beta: Float64Array; logLikelihood: number; cells: CoxCells } | undefined {
  const least = from - 1e-11 * (1 + Math.abs(from));
  for (let part = 1; part > 1e-9; part /= 2) {
    const next = beta.map((b, j) => b + part * step[j]);
    const logLikelihood = logLikelihoodAt(design, cells, next);
    if (logLikelihood >= least) return { beta: next, logLikelihood, cells };
  }
  return undefined;
}
