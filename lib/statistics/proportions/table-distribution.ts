import { bisect } from '../bisection';
import type { ArmCount } from './arms';

/** Far beyond any log odds ratio that counts can tell from infinity. */
const WIDEST_LOG_ODDS = 700;

/**
 * The events of the first arm once both totals are fixed: `lowest` to `lowest + probability.length - 1`, with
 * probabilities that add to 1. At odds ratio 1 the hypergeometric distribution, else Fisher's noncentral one.
 */
export type TableDistribution = { readonly lowest: number; readonly probability: Float64Array };

export function lowestEvents(first: ArmCount, second: ArmCount): number {
  return Math.max(0, first.events + second.events - second.n);
}

export function highestEvents(first: ArmCount, second: ArmCount): number {
  return Math.min(first.n, first.events + second.events);
}

/** The distribution at an odds ratio; weights grow from the mode outward by exact ratios, without logarithms. */
export function tableDistribution(first: ArmCount, second: ArmCount, oddsRatio: number): TableDistribution {
  const events = first.events + second.events;
  const lowest = lowestEvents(first, second);
  const size = highestEvents(first, second) - lowest + 1;
  /** probability(x + 1)/probability(x), falling in x. */
  const step = (i: number): number => {
    const x = lowest + i;
    return ((first.n - x) / (x + 1)) * ((events - x) / (second.n - events + x + 1)) * oddsRatio;
  };
  let mode = 0;
  let last = size - 1;
  while (mode < last) {
    const middle = Math.floor((mode + last) / 2);
    if (step(middle) >= 1) mode = middle + 1;
    else last = middle;
  }
  const weight = new Float64Array(size);
  weight[mode] = 1;
  for (let i = mode; i < size - 1; i += 1) weight[i + 1] = weight[i] * step(i);
  for (let i = mode; i > 0; i -= 1) weight[i - 1] = weight[i] / step(i - 1);
  let total = 0;
  for (const value of weight) total += value;
  return { lowest, probability: weight.map((value) => value / total) };
}

/** P(X <= x) and P(X >= x), each summed from its own far end; x itself is in both. */
export function tableTails(
  { lowest, probability }: TableDistribution,
  x: number,
): { readonly lower: number; readonly upper: number } {
  let lower = 0;
  let upper = 0;
  for (let i = 0; i <= x - lowest; i += 1) lower += probability[i];
  for (let i = probability.length - 1; i >= x - lowest; i -= 1) upper += probability[i];
  return { lower: Math.min(1, lower), upper: Math.min(1, upper) };
}

/** The odds ratio at which a measure of the distribution that rises with it reaches a value. */
export function oddsRatioWhere(
  first: ArmCount,
  second: ArmCount,
  value: number,
  measure: (distribution: TableDistribution) => number,
): number {
  const below = (logOdds: number): boolean =>
    measure(tableDistribution(first, second, Math.exp(logOdds))) < value;
  return Math.exp(bisect(-WIDEST_LOG_ODDS, WIDEST_LOG_ODDS, below).middle);
}
