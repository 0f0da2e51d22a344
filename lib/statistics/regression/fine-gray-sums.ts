import type { FineGrayDesign } from './fine-gray-design';

export type FineGraySums = {
  readonly logLikelihood: number;
  readonly gradient: Float64Array;
  /** Minus the second derivative, size x size, by rows. */
  readonly information: Float64Array;
  /** The size of what the diagonal of the information was made of. */
  readonly raw: Float64Array;
  /** Per row: exp(beta'z). */
  readonly risk: Float64Array;
  /** Per place with events: their number over the risk at stake, and the mean of z weighted by risk. */
  readonly hazard: Float64Array;
  readonly mean: Float64Array;
};

/**
 * Log partial likelihood of the subdistribution and its derivatives. At stake at an event time are those still there, each with
 * risk r, and those who have had another cause, each with r G(u-)/G(T-): sums over the first run backwards, over the
 * second forwards in time, so that each row is added once.
 */
export function sumFineGray(design: FineGrayDesign, beta: Float64Array): FineGraySums {
  const { place, z, size, events, uncensored } = design;
  const placeCount = events.length;
  const width = 1 + size + (size * (size + 1)) / 2;
  const risk = riskOf(design, beta);
  const there = new Float64Array(placeCount * width);
  const past = new Float64Array(placeCount * width);
  for (let i = 0; i < place.length; i += 1) {
    addRow(there, place[i] * width, z, i, size, risk[i]);
    if (design.kind[i] === 2) addRow(past, place[i] * width, z, i, size, risk[i] / uncensored[place[i]]);
  }
  accumulate(there, past, placeCount, width);
  const sums = {
    ...{ gradient: new Float64Array(size), information: new Float64Array(size * size) },
    ...{ raw: new Float64Array(size), risk },
    ...{ hazard: new Float64Array(placeCount), mean: new Float64Array(placeCount * size) },
  };
  let logLikelihood = sumOverEventRows(design, beta, sums.gradient);
  const total = new Float64Array(width);
  for (let j = 0; j < placeCount; j += 1) {
    if (events[j] === 0) continue;
    for (let k = 0; k < width; k += 1)
      total[k] = there[j * width + k] + (j > 0 ? uncensored[j] * past[(j - 1) * width + k] : 0);
    sums.hazard[j] = events[j] / total[0];
    logLikelihood -= events[j] * Math.log(total[0]);
    addEventTime(sums, j, events[j], total, size);
  }
  return { ...sums, logLikelihood };
}

function riskOf({ z, size, place }: FineGrayDesign, beta: Float64Array): Float64Array {
  const risk = new Float64Array(place.length);
  for (let i = 0; i < risk.length; i += 1) {
    let sum = 0;
    for (let j = 0; j < size; j += 1) sum += beta[j] * z[i * size + j];
    risk[i] = Math.exp(sum);
  }
  return risk;
}

/** Adds weight x (1, z, the lower triangle of z z'). */
function addRow(
  sums: Float64Array,
  at: number,
  z: Float64Array,
  row: number,
  size: number,
  weight: number,
): void {
  sums[at] += weight;
  for (let j = 0, k = at + 1 + size; j < size; j += 1) {
    const part = weight * z[row * size + j];
    sums[at + 1 + j] += part;
    for (let l = 0; l <= j; l += 1, k += 1) sums[k] += part * z[row * size + l];
  }
}

/** Sums at each place become those from it on (there) and up to and including it (past). */
function accumulate(there: Float64Array, past: Float64Array, placeCount: number, width: number): void {
  for (let at = (placeCount - 1) * width - 1; at >= 0; at -= 1) there[at] += there[at + width];
  for (let at = width; at < placeCount * width; at += 1) past[at] += past[at - width];
}

/** Adds z of the events to the gradient and answers the sum of their linear predictors. */
function sumOverEventRows(
  { kind, z, size }: FineGrayDesign,
  beta: Float64Array,
  gradient: Float64Array,
): number {
  for (let i = 0; i < kind.length; i += 1) {
    if (kind[i] !== 1) continue;
    for (let j = 0; j < size; j += 1) gradient[j] += z[i * size + j];
  }
  return gradient.reduce((sum, value, j) => sum + beta[j] * value, 0);
}

function addEventTime(
  { gradient, information, raw, mean }: Omit<FineGraySums, 'logLikelihood'>,
  place: number,
  count: number,
  total: Float64Array,
  size: number,
): void {
  for (let j = 0, k = 1 + size; j < size; j += 1) {
    const average = total[1 + j] / total[0];
    mean[place * size + j] = average;
    gradient[j] -= count * average;
    for (let l = 0; l <= j; l += 1, k += 1) {
      const part = count * (total[k] / total[0] - average * mean[place * size + l]);
      information[j * size + l] += part;
      if (l < j) information[l * size + j] += part;
      else raw[j] += (count * total[k]) / total[0];
    }
  }
}
