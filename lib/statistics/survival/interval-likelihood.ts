import type { IntervalCells } from './maximal-intersections';

/** The probability that these masses give to each kind of case. */
export function probabilitiesOf({ first, last }: IntervalCells, mass: Float64Array): Float64Array {
  const below = new Float64Array(mass.length + 1);
  for (let j = 0; j < mass.length; j += 1) below[j + 1] = below[j] + mass[j];
  const probability = new Float64Array(first.length);
  for (let i = 0; i < first.length; i += 1)
    probability[i] = first[i] === last[i] ? mass[first[i]] : below[last[i] + 1] - below[first[i]];
  return probability;
}

export function logLikelihoodOf({ cases }: IntervalCells, probability: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < cases.length; i += 1) sum += cases[i] * Math.log(probability[i]);
  return sum;
}

/**
 * The derivative of the log-likelihood by each mass: the sum of 1/P over the cases that cover the cell. At the maximum it is n
 * where there is mass and no more than n anywhere.
 */
export function gradientOf(cells: IntervalCells, probability: Float64Array): Float64Array {
  const { first, last, cases, left } = cells;
  const change = new Float64Array(left.length + 1);
  const single = new Float64Array(left.length);
  for (let i = 0; i < first.length; i += 1) {
    const part = cases[i] / probability[i];
    // Cases in one cell, exact times above all, weigh most and would leave their rounding in every later cell.
    if (first[i] === last[i]) single[first[i]] += part;
    else {
      change[first[i]] += part;
      change[last[i] + 1] -= part;
    }
  }
  let sum = 0;
  for (let j = 0; j < single.length; j += 1) {
    sum += change[j];
    single[j] += sum;
  }
  return single;
}
