import { admissionsOf } from './admissions';
import { deliveredProbabilities } from './assignment';
import { freedomAt, logRiskOf } from './hazard';
import { COMPARED, type Compared, PATIENTS } from './parameters';
import { streamOf } from './random';

/** Days after the procedure at which the truth is stated. */
const HORIZONS = [365, 730] as const;

/** A simulated quantity with its Monte Carlo standard error. */
interface Simulated {
  readonly value: number;
  readonly monteCarloSe: number;
}
type AtHorizons = Record<`day${(typeof HORIZONS)[number]}`, Simulated>;
type ByStrategy = Record<Compared, AtHorizons>;

interface PairTruth {
  readonly strategies: readonly [Compared, Compared];
  /** Kish's share: (sum w)^2 / (n x sum w^2) of the overlap weights over the cases that had one of the two. */
  readonly effectiveShare: number;
  /** Share of those cases for whom both were plausible: probability of the second between 0.1 and 0.9. */
  readonly bothPlausible: number;
  /** Freedom of the overlap population under each; null where nobody could have had either. */
  readonly overlapFreedom: readonly [AtHorizons, AtHorizons] | null;
  /** Second minus first in the overlap population, from both potential outcomes of the same patients. */
  readonly overlapDifference: AtHorizons | null;
  /** Second minus first as they were treated: what a crude comparison of true freedom finds. */
  readonly crudeDifference: AtHorizons;
}

export interface FreedomTruth {
  readonly patients: number;
  /** Freedom if every patient of the lab had had the strategy. */
  readonly wholePopulation: ByStrategy;
  /** Freedom among those who had it. */
  readonly asTreated: ByStrategy;
  readonly pairs: readonly PairTruth[];
}

/** Sums of one lab: numerators and denominators by key; a ratio of their totals is an estimate, the labs are its replicates. */
type LabSums = Map<string, readonly [number, number]>;

/**
 * True freedom from recurrence (days 91 to 365 and 730, before detection, as if nobody died or left) from both potential
 * outcomes of each patient of many simulated labs. The expectation of an outcome given the covariates is used in place of
 * a drawn one: same estimand, smaller Monte Carlo error. Standard errors come from the labs as independent replicates
 * (ratio estimates by linearisation; Cochran, Sampling Techniques, 1977, section 6.3).
 */
export function simulateFreedom(labs: number, seed: number): FreedomTruth {
  const totals = Array.from({ length: labs }, (_, lab) => sumsOfLab(seed, lab));
  const at = (key: string): AtHorizons => ({
    day365: ratioOf(totals, `${key}@365`),
    day730: ratioOf(totals, `${key}@730`),
  });
  const byStrategy = (key: string): ByStrategy => ({
    ostial: at(`${key}:ostial`),
    'wide-encircling': at(`${key}:wide-encircling`),
    'wide-with-lines': at(`${key}:wide-with-lines`),
    'single-shot': at(`${key}:single-shot`),
  });
  const pairs = PAIRS.map(([a, b]): PairTruth => {
    const key = `${a}|${b}`;
    const [weight, squares, cases, plausible] = ['weight', 'squares', 'cases', 'plausible'].map((name) =>
      totals.reduce((sum, lab) => sum + (lab.get(`${key}:${name}`)?.[0] ?? 0), 0),
    );
    return {
      strategies: [a, b],
      effectiveShare: squares === 0 ? 0 : rounded((weight * weight) / (cases * squares)),
      bothPlausible: rounded(plausible / cases),
      overlapFreedom: weight === 0 ? null : [at(`${key}:first`), at(`${key}:second`)],
      overlapDifference: weight === 0 ? null : at(`${key}:difference`),
      crudeDifference: {
        day365: differenceOf(ratioOf(totals, `asTreated:${b}@365`), ratioOf(totals, `asTreated:${a}@365`)),
        day730: differenceOf(ratioOf(totals, `asTreated:${b}@730`), ratioOf(totals, `asTreated:${a}@730`)),
      },
    };
  });
  return {
    patients: labs * PATIENTS,
    wholePopulation: byStrategy('whole'),
    asTreated: byStrategy('asTreated'),
    pairs,
  };
}

const PAIRS: readonly (readonly [Compared, Compared])[] = COMPARED.flatMap((a, index) =>
  COMPARED.slice(index + 1).map((b) => [a, b] as const),
);

function sumsOfLab(seed: number, lab: number): LabSums {
  const sums = new Map<string, [number, number]>();
  const add = (key: string, numerator: number, denominator: number) => {
    const sum = sums.get(key);
    if (!sum) sums.set(key, [numerator, denominator]);
    else {
      sum[0] += numerator;
      sum[1] += denominator;
    }
  };
  for (const admission of admissionsOf(streamOf(seed, 'truthLabs', lab))) {
    const logRisk = logRiskOf(admission);
    const probability = deliveredProbabilities(admission);
    for (const day of HORIZONS) {
      for (const code of COMPARED) {
        const free = freedomAt(day, logRisk, code);
        add(`whole:${code}@${day}`, free, 1);
        if (admission.delivered === code) add(`asTreated:${code}@${day}`, free, 1);
      }
    }
    for (const [a, b] of PAIRS) {
      const key = `${a}|${b}`;
      const either = probability[a] + probability[b];
      if (either === 0) continue;
      const ofSecond = probability[b] / either;
      // Everybody counts as much as they were likely to have one of the two; overlap weights within that.
      const weight = either * ofSecond * (1 - ofSecond);
      add(`${key}:cases`, either, 0);
      add(`${key}:weight`, weight, 0);
      add(`${key}:squares`, (weight * weight) / either, 0);
      add(`${key}:plausible`, ofSecond > 0.1 && ofSecond < 0.9 ? either : 0, 0);
      for (const day of HORIZONS) {
        const [first, second] = [freedomAt(day, logRisk, a), freedomAt(day, logRisk, b)];
        add(`${key}:first@${day}`, weight * first, weight);
        add(`${key}:second@${day}`, weight * second, weight);
        add(`${key}:difference@${day}`, weight * (second - first), weight);
      }
    }
  }
  return sums;
}

function ratioOf(labs: readonly LabSums[], key: string): Simulated {
  const parts = labs.map((lab) => lab.get(key) ?? ([0, 0] as const));
  const [numerator, denominator] = [0, 1].map((side) => parts.reduce((sum, part) => sum + part[side], 0));
  const value = numerator / denominator;
  const squares = parts.reduce((sum, [top, bottom]) => sum + (top - value * bottom) ** 2, 0);
  const monteCarloSe = Math.sqrt((squares * labs.length) / (labs.length - 1)) / denominator;
  return { value: rounded(value), monteCarloSe: rounded(monteCarloSe) };
}

/** The two groups are different patients, drawn apart within each lab: their errors add. */
function differenceOf(a: Simulated, b: Simulated): Simulated {
  return {
    value: rounded(a.value - b.value),
    monteCarloSe: rounded(Math.hypot(a.monteCarloSe, b.monteCarloSe)),
  };
}

/** Six decimals: far below the Monte Carlo error, and the same on every machine. */
export const rounded = (value: number): number => Math.round(value * 1e6) / 1e6;
