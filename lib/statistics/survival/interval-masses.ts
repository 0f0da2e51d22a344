import { gradientOf, logLikelihoodOf, probabilitiesOf } from './interval-likelihood';
import { maximiseModel } from './interval-newton';
import type { IntervalCells } from './maximal-intersections';

export type IntervalMasses = {
  readonly mass: Float64Array;
  readonly logLikelihood: number;
  /** Largest derivative of the log-likelihood by a mass, divided by n: 1 at the maximum. */
  readonly largestGradient: number;
  readonly converged: boolean;
};

const GRADIENT_TOLERANCE = 1e-10;
/** How near to n the derivative must be where there is mass: only then is mass that ought to go gone. */
const SUPPORT_TOLERANCE = 1e-7;
const REMAINS = 1e-12;
const MOST_ROUNDS = 500;
const FIRST_STEPS = 5;
const ROUGH = 1e-3;
const FINE = 1e-14;

type State = { mass: Float64Array; probability: Float64Array; logLikelihood: number };

/**
 * The masses of largest likelihood: a few steps of self-consistency (Turnbull 1976), then maxima of the quadratic model on
 * the cells with mass and, between each two of them, the cell whose derivative calls for mass the most (in the manner of the
 * constrained Newton method of Wang, J R Stat Soc B 2007;69:185), each step halved until the likelihood rises.
 */
export function maximiseMasses(cells: IntervalCells): IntervalMasses {
  const size = cells.left.length;
  let state = stateOf(cells, new Float64Array(size).fill(1 / size));
  for (let count = 0; count < FIRST_STEPS; count += 1) state = selfConsistent(cells, state);
  for (let round = 0; ; round += 1) {
    const gradient = gradientOf(cells, state.probability);
    dropRemains(cells, state.mass, gradient);
    const { largest, unsettled } = distanceFromMaximum(cells, state.mass, gradient);
    const converged = largest <= 1 + GRADIENT_TOLERANCE && unsettled <= SUPPORT_TOLERANCE;
    if (converged || round === MOST_ROUNDS) {
      const { mass, logLikelihood } = state;
      return { mass, logLikelihood, largestGradient: largest, converged };
    }
    // Far from the maximum a rough solution of the model serves as well.
    const precision = Math.min(ROUGH, Math.max(FINE, ROUGH * Math.max(largest - 1, unsettled)));
    state = improve(cells, state, gradient, precision);
  }
}

function stateOf(cells: IntervalCells, mass: Float64Array): State {
  const probability = probabilitiesOf(cells, mass);
  return { mass, probability, logLikelihood: logLikelihoodOf(cells, probability) };
}

function selfConsistent(cells: IntervalCells, { mass, probability }: State): State {
  const gradient = gradientOf(cells, probability);
  return stateOf(
    cells,
    mass.map((value, j) => (value * gradient[j]) / cells.n),
  );
}

/** Takes away masses of no more than rounding whose derivative says that none belongs there. */
function dropRemains({ n }: IntervalCells, mass: Float64Array, gradient: Float64Array): void {
  for (let j = 0; j < mass.length; j += 1)
    if (mass[j] < REMAINS && gradient[j] < n * (1 - SUPPORT_TOLERANCE)) mass[j] = 0;
}

function distanceFromMaximum(
  { n }: IntervalCells,
  mass: Float64Array,
  gradient: Float64Array,
): { largest: number; unsettled: number } {
  let largest = 0;
  let unsettled = 0;
  for (let j = 0; j < mass.length; j += 1) {
    largest = Math.max(largest, gradient[j] / n);
    if (mass[j] > 0) unsettled = Math.max(unsettled, Math.abs(gradient[j] / n - 1));
  }
  return { largest, unsettled };
}

function improve(cells: IntervalCells, state: State, gradient: Float64Array, precision: number): State {
  const { mass, probability, logLikelihood } = state;
  const target = maximiseModel(cells, probability, mass, candidatesOf(cells, mass, gradient), precision);
  let rise = 0;
  for (let j = 0; j < mass.length; j += 1) rise += (gradient[j] - cells.n) * (target[j] - mass[j]);
  // Rises below the rounding of the likelihood are not to be seen in it.
  const visible = 1e-10 * Math.abs(logLikelihood);
  for (let share = 1; rise > 0 && share > 1e-6; share /= 2) {
    const next = stateOf(
      cells,
      mass.map((value, j) => (share === 1 ? target[j] : value + share * (target[j] - value))),
    );
    if (
      next.logLikelihood >= logLikelihood + share * (rise / 3) ||
      (rise < visible && share === 1 && next.probability.every((p) => p > 0))
    )
      return next;
  }
  return selfConsistent(cells, state);
}

/** The cells with mass and, in each gap between them, the cell with the largest derivative if it is above n. */
function candidatesOf({ n }: IntervalCells, mass: Float64Array, gradient: Float64Array): number[] {
  const candidates: number[] = [];
  let best = -1;
  for (let j = 0; j < mass.length; j += 1) {
    if (mass[j] > 0) {
      if (best >= 0) candidates.push(best);
      candidates.push(j);
      best = -1;
    } else if (gradient[j] > n && (best < 0 || gradient[j] > gradient[best])) best = j;
  }
  if (best >= 0) candidates.push(best);
  return candidates;
}
