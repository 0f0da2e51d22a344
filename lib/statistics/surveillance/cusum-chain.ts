import type { Increments } from './case-mix';

/**
 * The mean number of cases until the sum, from 0, reaches the threshold; not finite when it practically never does. The
 * error of a grid is about proportional to its step, so the grid and one twice as fine together lead to a step of 0; on the
 * log scale, which keeps the result above 0.
 */
export function meanRunLength(increments: Increments, threshold: number, cells: number): number {
  const coarse = chainRunLength(chainOf(increments, threshold, cells));
  const fine = chainRunLength(chainOf(increments, threshold, 2 * cells));
  return fine * (fine / coarse);
}

/** The chance that the sum, from 0, reaches the threshold within so many cases; from two grids like meanRunLength. */
export function signalChance(
  increments: Increments,
  threshold: number,
  cells: number,
  cases: number,
): number {
  const coarse = chainQuietChance(chainOf(increments, threshold, cells), cases);
  const fine = chainQuietChance(chainOf(increments, threshold, 2 * cells), cases);
  return coarse > 0 ? Math.max(0, 1 - fine * (fine / coarse)) : 1;
}

/**
 * The sum on a grid of `cells` steps from 0 to below the threshold. An increment between two whole steps is shared between
 * them so that its mean is kept; that is linear interpolation of the run length between grid points.
 */
type CusumChain = {
  readonly cells: number;
  /** The number of steps of mass[0]; at least -cells, as is `highest` at most cells. */
  readonly lowest: number;
  readonly highest: number;
  /** The chance of each number of steps from lowest to highest. */
  readonly mass: Float64Array;
};

/** An increment so close to a whole number of steps is that number: it differs by rounding only. */
const WHOLE_STEP = 1e-9;

function chainOf({ value, chance }: Increments, threshold: number, cells: number): CusumChain {
  const inGrid = (steps: number): number => Math.max(-cells, Math.min(cells, steps));
  const steps = value.map((each) => {
    const exact = (each / threshold) * cells;
    const whole = Math.round(exact);
    return inGrid(Math.abs(exact - whole) < WHOLE_STEP ? whole : exact);
  });
  const lowest = Math.floor(steps.reduce((least, step) => Math.min(least, step), 0));
  const highest = Math.ceil(steps.reduce((most, step) => Math.max(most, step), 0));
  const mass = new Float64Array(highest - lowest + 1);
  for (let i = 0; i < steps.length; i += 1) {
    const below = Math.floor(steps[i]);
    const share = steps[i] - below;
    mass[below - lowest] += chance[i] * (1 - share);
    if (share > 0) mass[below + 1 - lowest] += chance[i] * share;
  }
  return { cells, lowest, highest, mass };
}

/**
 * The mean number of cases until the sum, from 0, reaches the threshold; Infinity when it never does.
 *
 * The walk is cut at its returns to 0 (Brook & Evans, Biometrika 1972;59:539, as a banded system): the mean length of one
 * stretch from 0 until it returns or signals, over the chance that it signals. Rows add up to 1 or less and nothing off
 * the diagonal is positive, so elimination needs no pivoting.
 */
function chainRunLength(chain: CusumChain): number {
  const { cells, lowest, highest, mass } = chain;
  if (highest === 0) return Number.POSITIVE_INFINITY;
  const width = highest - lowest + 1;
  const matrix = new Float64Array(cells * width);
  const length = new Float64Array(cells).fill(1);
  const signal = new Float64Array(cells);
  for (let row = 0; row < cells; row += 1) {
    const start = row * width;
    for (let k = lowest; k <= highest; k += 1) {
      const to = row + k;
      if (to >= cells) signal[row] += mass[k - lowest];
      else if (to > 0) matrix[start + k - lowest] = -mass[k - lowest];
    }
    matrix[start - lowest] += 1;
  }
  for (let column = 0; column < cells; column += 1) {
    const from = column * width - lowest;
    const lastRow = Math.min(cells - 1, column - lowest);
    const reach = Math.min(highest, cells - 1 - column);
    for (let row = column + 1; row <= lastRow; row += 1) {
      const at = row * width - lowest + column - row;
      const factor = matrix[at] / matrix[from];
      if (factor === 0) continue;
      for (let k = 1; k <= reach; k += 1) matrix[at + k] -= factor * matrix[from + k];
      length[row] -= factor * length[column];
      signal[row] -= factor * signal[column];
    }
  }
  for (let row = cells - 1; row >= 0; row -= 1) {
    const from = row * width - lowest;
    const reach = Math.min(highest, cells - 1 - row);
    for (let k = 1; k <= reach; k += 1) {
      length[row] -= matrix[from + k] * length[row + k];
      signal[row] -= matrix[from + k] * signal[row + k];
    }
    length[row] /= matrix[from];
    signal[row] /= matrix[from];
  }
  return length[0] / signal[0];
}

/** The chance that the sum, from 0, stays below the threshold for so many cases. */
function chainQuietChance({ cells, lowest, mass }: CusumChain, cases: number): number {
  const moves = [...mass].flatMap((chance, i) => (chance > 0 ? [{ chance, steps: lowest + i }] : []));
  let here = new Float64Array(cells);
  let next = new Float64Array(cells);
  here[0] = 1;
  for (let t = 0; t < cases; t += 1) {
    next.fill(0);
    for (const { chance, steps } of moves) {
      for (let state = 0; state < cells; state += 1) {
        const to = state + steps;
        const moved = here[state] * chance;
        if (to < cells) next[Math.max(to, 0)] += moved;
      }
    }
    [here, next] = [next, here];
  }
  return here.reduce((sum, chance) => sum + chance, 0);
}
