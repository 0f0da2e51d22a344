import type { EventTable } from './event-table';
import { casesOfGroups, type GrayStep, walkGraySteps } from './gray-steps';

/** Score and covariance of Gray's test, summed over event times and strata. */
export type GraySums = {
  readonly sizes: Int32Array;
  readonly score: Float64Array;
  /** By rows; `reference` holds, per group, the size of what its diagonal was made of. */
  readonly covariance: Float64Array;
  readonly reference: Float64Array;
  eventTotal: number;
  /** A weight could not be formed: the pooled incidence had reached one before an event. */
  pooledAtOne: boolean;
  /** The correction for ties took more than there was, so that the covariance need not be one. */
  negativePart: boolean;
};

/** Below this, one minus the pooled incidence is rounding. */
const NOTHING_LEFT = 1e-12;

/** Adds one stratum: the drift of each group's score (c) through all event times first, then score and covariance. */
export function addGrayStratum(sums: GraySums, table: EventTable, cause: number, rho: number): void {
  const { groupCount } = table;
  const square = groupCount * groupCount;
  const drift = new Float64Array(square);
  for (const [g, cases] of casesOfGroups(table).entries()) sums.sizes[g] += cases;
  walkGraySteps(table, cause, (step) => {
    sums.eventTotal += step.ownTotal;
    if (step.ownTotal === 0) return;
    const left = 1 - step.pooled;
    if (Math.abs(left) < NOTHING_LEFT || !Number.isFinite(left ** rho)) sums.pooledAtOne = true;
    addDrift(drift, step, rho);
  });
  const soFar = new Float64Array(square);
  walkGraySteps(table, cause, (step) => {
    if (step.ownTotal > 0) {
      addScore(sums.score, step, rho);
      addDrift(soFar, step, rho);
    }
    for (let k = 0; k < groupCount; k += 1) {
      if (step.atRisk[k] === 0) continue;
      if (step.ownTotal > 0) addOwnCause(sums, step, k, rho, soFar, drift);
      if (step.others[k] > 0 && step.freeAfter[k] > 0) addOtherCauses(sums, step, k, soFar, drift);
    }
  });
}

const weightOf = (step: GrayStep, rho: number): number => (1 - step.pooled) ** rho;

function addScore(score: Float64Array, step: GrayStep, rho: number): void {
  const { enlarged, incidence, own, ownTotal } = step;
  const weight = weightOf(step, rho);
  let total = 0;
  for (let g = 0; g < score.length; g += 1) total += enlarged[g] * (1 - incidence[g]);
  for (let g = 0; g < score.length; g += 1)
    score[g] += weight * (own[g] - ownTotal * ((enlarged[g] * (1 - incidence[g])) / total));
}

/** a(i, j) = W h_i (delta_ij - h_j / h). */
function coefficient(step: GrayStep, rho: number, i: number, j: number): number {
  const { enlarged, enlargedTotal } = step;
  return weightOf(step, rho) * enlarged[i] * ((i === j ? 1 : 0) - enlarged[j] / enlargedTotal);
}

function addDrift(drift: Float64Array, step: GrayStep, rho: number): void {
  const size = step.atRisk.length;
  const rate = step.ownTotal / (step.enlargedTotal * (1 - step.pooled));
  for (let i = 0; i < size; i += 1)
    for (let j = 0; j < size; j += 1) drift[i * size + j] += coefficient(step, rho, i, j) * rate;
}

/** What an event of the cause in group k would move, now (a) and through all later times (drift). */
function addOwnCause(
  sums: GraySums,
  step: GrayStep,
  k: number,
  rho: number,
  soFar: Float64Array,
  drift: Float64Array,
): void {
  const { atRisk, free, freeAfter, enlargedTotal, ownTotal, pooledAfter } = step;
  const ties = ownTotal > 1 ? 1 - (ownTotal - 1) / (enlargedTotal * free[k] - 1) : 1;
  const spread = (ties * free[k] * ownTotal) / (enlargedTotal * atRisk[k]);
  const share = freeAfter[k] > 0 ? 1 - (1 - pooledAfter) / freeAfter[k] : 1;
  addSquare(sums, spread, (i, size) => {
    const now = coefficient(step, rho, i, k);
    return [now, share * (drift[i * size + k] - soFar[i * size + k])];
  });
}

/** What an event of another cause in group k would move: later times only. */
function addOtherCauses(
  sums: GraySums,
  step: GrayStep,
  k: number,
  soFar: Float64Array,
  drift: Float64Array,
): void {
  const { atRisk, free, freeAfter, others, pooledAfter } = step;
  const ties = others[k] > 1 ? 1 - (others[k] - 1) / (atRisk[k] - 1) : 1;
  const spread = ties * (free[k] / atRisk[k]) ** 2 * others[k];
  const share = (1 - pooledAfter) / freeAfter[k];
  addSquare(sums, spread, (i, size) => [0, share * (soFar[i * size + k] - drift[i * size + k])]);
}

/** Adds spread x v v', each v(i) given as two parts, whose sizes (not their sum) tell what rounding may leave. */
function addSquare(
  sums: GraySums,
  spread: number,
  parts: (i: number, size: number) => readonly [number, number],
): void {
  const { covariance, reference } = sums;
  const size = reference.length;
  if (spread < 0) sums.negativePart = true;
  const moved = new Float64Array(size);
  for (let i = 0; i < size; i += 1) {
    const [now, later] = parts(i, size);
    moved[i] = now + later;
    reference[i] += Math.abs(spread) * (Math.abs(now) + Math.abs(later)) ** 2;
  }
  for (let i = 0; i < size; i += 1)
    for (let j = 0; j < size; j += 1) covariance[i * size + j] += spread * moved[i] * moved[j];
}
