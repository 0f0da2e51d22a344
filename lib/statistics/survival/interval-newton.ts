import type { IntervalCells } from './maximal-intersections';

/**
 * The masses that maximise the quadratic model of the log-likelihood around the present ones (probability P), none below
 * zero, on the cells given; cells that would fall below zero are left out and the rest solved again. The unknowns are the
 * sums of mass F before each cell: every kind of case pulls apart the two ends of the cells it covers, so that the equations
 * are those of a network, nearly tridiagonal, solved by conjugate gradients preconditioned with that tridiagonal part.
 */
export function maximiseModel(
  cells: IntervalCells,
  probability: Float64Array,
  mass: Float64Array,
  candidates: readonly number[],
  precision: number,
): Float64Array {
  let kept = candidates;
  for (;;) {
    const found = solveOn(cells, probability, mass, kept, precision);
    const positive = kept.filter((_, k) => found[k] > 0);
    if (positive.length === kept.length || positive.length === 0) {
      const next = new Float64Array(mass.length);
      for (const [k, j] of kept.entries()) next[j] = Math.max(0, found[k]);
      return next;
    }
    kept = positive;
  }
}

/** The network between the sums F_0 = 0, F_1, ..., F_K = 1: one link per kind of case, and its tridiagonal part. */
type Network = {
  readonly from: Int32Array;
  readonly to: Int32Array;
  readonly strength: Float64Array;
  readonly diagonal: Float64Array;
  /** Between node v and v + 1. */
  readonly adjacent: Float64Array;
  readonly right: Float64Array;
};

function solveOn(
  cells: IntervalCells,
  probability: Float64Array,
  mass: Float64Array,
  kept: readonly number[],
  precision: number,
): Float64Array {
  const size = kept.length;
  const network = linkNodes(cells, probability, kept);
  const sums = new Float64Array(size + 1);
  let total = 0;
  for (const [k, j] of kept.entries()) {
    total += mass[j];
    sums[k + 1] = total;
  }
  for (let v = 0; v <= size; v += 1) sums[v] = total > 0 ? sums[v] / total : v / size;
  sums[0] = 0;
  sums[size] = 1;
  conjugateGradients(network, sums, precision);
  const found = new Float64Array(size);
  for (let k = 0; k < size; k += 1) found[k] = sums[k + 1] - sums[k];
  return found;
}

function linkNodes(cells: IntervalCells, probability: Float64Array, kept: readonly number[]): Network {
  const { first, last, cases, left } = cells;
  const size = kept.length;
  const before = new Int32Array(left.length + 1);
  for (const j of kept) before[j + 1] = 1;
  for (let j = 0; j < left.length; j += 1) before[j + 1] += before[j];
  const from = new Int32Array(first.length);
  const to = new Int32Array(first.length);
  const strength = new Float64Array(first.length);
  const diagonal = new Float64Array(size + 1);
  const adjacent = new Float64Array(size + 1);
  const right = new Float64Array(size + 1);
  let inner = 0;
  for (let i = 0; i < first.length; i += 1) {
    const a = before[first[i]];
    const b = before[last[i] + 1];
    if (a === b) continue;
    const pull = (2 * cases[i]) / probability[i];
    const c = pull / 2 / probability[i];
    right[b] += pull;
    right[a] -= pull;
    diagonal[a] += c;
    diagonal[b] += c;
    if (b === a + 1) adjacent[a] += c;
    else if (a > 0 && b < size) {
      from[inner] = a;
      to[inner] = b;
      strength[inner] = c;
      inner += 1;
    } else if (b === size) right[a] += c;
  }
  // Node 0 stands at 0 and adds nothing; node K stands at 1.
  right[size - 1] += adjacent[size - 1];
  const ends = {
    from: from.subarray(0, inner),
    to: to.subarray(0, inner),
    strength: strength.subarray(0, inner),
  };
  return { ...ends, diagonal, adjacent, right };
}

/** Solves for the inner nodes 1..K - 1, in place, from where they stand. */
function conjugateGradients(network: Network, x: Float64Array, precision: number): void {
  const size = x.length - 1;
  if (size < 2) return;
  const { right } = network;
  const product = new Float64Array(size + 1);
  const residual = new Float64Array(size + 1);
  const start = x.slice();
  start[0] = 0;
  start[size] = 0;
  multiply(network, start, product);
  for (let v = 1; v < size; v += 1) residual[v] = right[v] - product[v];
  const factor = factorTridiagonal(network);
  const solved = solveTridiagonal(network, factor, residual);
  const direction = solved.slice();
  let length = dot(residual, solved);
  let scale = 0;
  for (let v = 1; v < size; v += 1) scale += (right[v] * right[v]) / network.diagonal[v];
  for (let count = 0; count < size + 50 && length > precision * precision * scale; count += 1) {
    multiply(network, direction, product);
    const step = length / dot(direction, product);
    if (!Number.isFinite(step)) return;
    for (let v = 1; v < size; v += 1) {
      x[v] += step * direction[v];
      residual[v] -= step * product[v];
    }
    const next = solveTridiagonal(network, factor, residual);
    const nextLength = dot(residual, next);
    const ratio = nextLength / length;
    length = nextLength;
    for (let v = 1; v < size; v += 1) direction[v] = next[v] + ratio * direction[v];
  }
}

function multiply(network: Network, x: Float64Array, product: Float64Array): void {
  const { from, to, strength, diagonal, adjacent } = network;
  const size = x.length - 1;
  for (let v = 1; v < size; v += 1)
    product[v] = diagonal[v] * x[v] - adjacent[v] * x[v + 1] - adjacent[v - 1] * x[v - 1];
  for (let i = 0; i < from.length; i += 1) {
    product[from[i]] -= strength[i] * x[to[i]];
    product[to[i]] -= strength[i] * x[from[i]];
  }
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let v = 1; v < a.length - 1; v += 1) sum += a[v] * b[v];
  return sum;
}

/** The pivots of the tridiagonal part. */
function factorTridiagonal({ diagonal, adjacent }: Network): Float64Array {
  const size = diagonal.length - 1;
  const pivot = new Float64Array(size);
  for (let v = 1; v < size; v += 1) {
    pivot[v] = diagonal[v] - (v > 1 ? adjacent[v - 1] ** 2 / pivot[v - 1] : 0);
    // A node that only rounding holds: let it stand where it is.
    if (!(pivot[v] > 1e-12 * diagonal[v])) pivot[v] = Number.POSITIVE_INFINITY;
  }
  return pivot;
}

function solveTridiagonal({ adjacent }: Network, pivot: Float64Array, right: Float64Array): Float64Array {
  const size = pivot.length;
  const x = new Float64Array(size + 1);
  for (let v = 1; v < size; v += 1)
    x[v] = right[v] + (v > 1 ? (adjacent[v - 1] / pivot[v - 1]) * x[v - 1] : 0);
  for (let v = size - 1; v >= 1; v -= 1)
    x[v] = x[v] / pivot[v] + (v < size - 1 ? (adjacent[v] / pivot[v]) * x[v + 1] : 0);
  return x;
}
