import type { Column } from '../check-input';
import { StatisticsError } from '../errors';

/** What is controlled: the chance of any false finding (first four) or the expected share of false findings. */
export type MultiplicityMethod =
  | 'bonferroni'
  | 'holm'
  | 'hochberg'
  | 'hommel'
  | 'benjaminiHochberg'
  | 'benjaminiYekutieli';

/**
 * P values adjusted for their number: compare each with the level wanted for the whole family.
 *
 * Estimand: for the first four methods the smallest family-wise error rate, for the last two the smallest false
 * discovery rate, at which the hypothesis would be rejected.
 * Formula, p(1) <= ... <= p(m): Bonferroni m p; Holm running maximum of (m - i + 1) p(i) (Scand J Stat 1979;6:65);
 * Hochberg running minimum from the largest of the same (Biometrika 1988;75:800); Hommel the closed test by Simes'
 * inequality (Biometrika 1988;75:383; algorithm of Wright, Biometrics 1992;48:1005); Benjamini-Hochberg running minimum
 * from the largest of m p(i)/i (JRSS B 1995;57:289); Benjamini-Yekutieli the same times sum 1/i (Ann Stat
 * 2001;29:1165). All are cut at 1. Hochberg, Hommel and Benjamini-Hochberg need independent or positively dependent
 * tests; Bonferroni, Holm and Benjamini-Yekutieli need nothing.
 * Ties: equal p values get equal adjusted values. Shapes: the answer has the order of the input; no p value, no answer.
 * @throws StatisticsError notFinite, outOfRange (outside 0 to 1).
 */
export function adjustPValues(pValues: Column, method: MultiplicityMethod): Float64Array {
  checkPValues(pValues);
  const order = Array.from(pValues, (_, i) => i).sort((a, b) => pValues[a] - pValues[b]);
  const sorted = Float64Array.from(order, (i) => pValues[i]);
  const adjusted = ADJUST[method](sorted);
  const result = new Float64Array(sorted.length);
  for (const [rank, i] of order.entries()) result[i] = Math.min(1, adjusted[rank]);
  return result;
}

/** From ascending p values to their adjusted values, not yet cut at 1. */
const ADJUST: Readonly<Record<MultiplicityMethod, (p: Float64Array) => Float64Array>> = {
  bonferroni: (p) => p.map((value) => p.length * value),
  holm: (p) => runningMaximum(p.map((value, i) => (p.length - i) * value)),
  hochberg: (p) => runningMinimum(p.map((value, i) => (p.length - i) * value)),
  hommel: adjustByHommel,
  benjaminiHochberg: (p) => runningMinimum(p.map((value, i) => (p.length / (i + 1)) * value)),
  benjaminiYekutieli: (p) => {
    let harmonic = 0;
    for (let i = p.length; i >= 1; i -= 1) harmonic += 1 / i;
    return runningMinimum(p.map((value, i) => ((harmonic * p.length) / (i + 1)) * value));
  },
};

function runningMaximum(values: Float64Array): Float64Array {
  for (let i = 1; i < values.length; i += 1) values[i] = Math.max(values[i], values[i - 1]);
  return values;
}

/** From the largest down. */
function runningMinimum(values: Float64Array): Float64Array {
  for (let i = values.length - 2; i >= 0; i -= 1) values[i] = Math.min(values[i], values[i + 1]);
  return values;
}

/**
 * For every size s of an intersection, its Simes p value when it holds p(i) and the s - 1 least favourable others; the
 * adjusted p(i) is the largest over the sizes.
 */
function adjustByHommel(p: Float64Array): Float64Array {
  const m = p.length;
  const adjusted = p.slice();
  for (let size = 2; size <= m; size += 1) {
    const largest = m - size + 1;
    // The Simes value of the size - 1 largest p values, their smallest taken as second.
    let simes = Number.POSITIVE_INFINITY;
    for (let rank = 2; rank <= size; rank += 1)
      simes = Math.min(simes, (size * p[largest + rank - 2]) / rank);
    for (let i = 0; i < m; i += 1) {
      const smallest = size * p[Math.min(i, largest - 1)];
      adjusted[i] = Math.max(adjusted[i], Math.min(simes, smallest));
    }
  }
  return adjusted;
}

function checkPValues(pValues: Column): void {
  for (let i = 0; i < pValues.length; i += 1) {
    const value = pValues[i];
    if (typeof value !== 'number' || !Number.isFinite(value)) {
      const message = `pValues[${i}] is ${String(value)}; leave out tests without a p value.`;
      throw new StatisticsError('notFinite', 'pValues', i, message);
    }
    if (value < 0 || value > 1) {
      const message = `pValues[${i}] is ${value}; a p value lies between 0 and 1.`;
      throw new StatisticsError('outOfRange', 'pValues', i, message);
    }
  }
}
