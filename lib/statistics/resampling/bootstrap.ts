import { type NotEstimable, notEstimable } from '../absence';
import { checkCount } from '../check-counts';
import { type Column, checkEqualLengths, checkFinite } from '../check-input';
import { StatisticsError } from '../errors';
import { type BootstrapInterval, type BootstrapLimits, deriveBootstrapLimits } from './bootstrap-limits';
import { deriveGenerator } from './generator';
import { type ResamplingUnits, resamplingUnits } from './resampling-units';
import { summariseReplicates } from './summarise-replicates';

export type BootstrapDesign = {
  /** How many rows there are. */
  readonly rows: number;
  /** Rows are drawn within each stratum, as many as it has: any number per row names the stratum. */
  readonly strata?: Column;
  /** Rows that are drawn together, such as the procedures of a patient: any number per row names the cluster. */
  readonly cluster?: Column;
};

export type BootstrapOptions = {
  readonly seed: number;
  /** 2000 unless stated. */
  readonly replicates?: number;
  readonly limits?: BootstrapLimits;
  /** Two-sided, 0.95 unless stated. */
  readonly confidenceLevel?: number;
};

export type BootstrapEstimate = {
  readonly kind: 'estimated';
  readonly estimate: number;
  /** Those that could be estimated, in the order drawn. */
  readonly replicates: Float64Array;
  /** How many could not. */
  readonly failed: number;
  readonly mean: number;
  readonly standardError: number;
  readonly interval: BootstrapInterval | NotEstimable;
};

/** When more replicates than this part have no value, what is left speaks for nobody. */
const MOST_FAILED = 0.05;

/**
 * Standard error and limits of any statistic by drawing rows with replacement.
 *
 * `statistic` gets row numbers (some more than once, in a buffer that it must not keep) and answers a number, or why there
 * is none. It must re-estimate all that was estimated, such as a propensity score.
 * Formula: Efron (Ann Stat 1979;7:1); whole clusters within strata (Davison & Hinkley 1997, 3.2 and 3.8); limits as
 * deriveBootstrapLimits. For BCa the influence of each unit is (units of its stratum - 1) times (mean - value without it).
 * Not estimable: the statistic itself; more than 5 % of the replicates, or any value without one unit for BCa; fewer than
 * two replicates.
 * The same seed gives the same replicates.
 * @throws StatisticsError as deriveGenerator (seed) and deriveBootstrapLimits; unequalLengths, notFinite (strata, cluster),
 * outOfRange (a cluster in two strata; no rows), as checkCount (rows, replicates); notFinite (what `statistic` answers).
 */
export function estimateByBootstrap(
  design: BootstrapDesign,
  statistic: (rows: Int32Array) => number | NotEstimable,
  options: BootstrapOptions,
): BootstrapEstimate | NotEstimable {
  const { seed, replicates = 2000, limits = 'percentile', confidenceLevel = 0.95 } = options;
  const units = checkDesign(design);
  checkCount('replicates', replicates);
  const generator = deriveGenerator(seed);
  const ask = (rows: Int32Array): number | NotEstimable => checkAnswer(statistic(rows));
  const estimate = ask(Int32Array.from({ length: design.rows }, (_, i) => i));
  if (typeof estimate !== 'number') return estimate;
  const values = new Float64Array(replicates);
  let count = 0;
  const buffer = new Int32Array(units.mostRows);
  for (let b = 0; b < replicates; b += 1) {
    const value = ask(units.draw(generator, buffer));
    if (typeof value !== 'number') continue;
    values[count] = value;
    count += 1;
  }
  const failed = replicates - count;
  if (failed > MOST_FAILED * replicates) return notEstimable('replicatesFailed');
  if (count < 2) return notEstimable('tooFewReplicates');
  const kept = values.slice(0, count);
  const influence = limits === 'bca' ? jackknife(units, ask) : undefined;
  const interval =
    limits === 'bca' && !influence
      ? notEstimable('replicatesFailed')
      : deriveBootstrapLimits(
          { estimate, replicates: kept, ...(influence ? { influence } : {}) },
          { limits, confidenceLevel },
        );
  return { kind: 'estimated', estimate, replicates: kept, failed, ...summariseReplicates(kept), interval };
}

function checkDesign({ rows, strata, cluster }: BootstrapDesign): ResamplingUnits {
  checkCount('rows', rows);
  if (rows === 0) throw new StatisticsError('outOfRange', 'rows', undefined, 'rows is 0; give some rows.');
  checkEqualLengths({ rows: { length: rows }, strata, cluster });
  if (strata) checkFinite('strata', strata);
  if (cluster) checkFinite('cluster', cluster);
  return resamplingUnits(rows, strata, cluster);
}

function checkAnswer(answer: number | NotEstimable): number | NotEstimable {
  if (typeof answer !== 'number' || Number.isFinite(answer)) return answer;
  const message = `statistic answered ${answer}; answer a finite number, or why there is none.`;
  throw new StatisticsError('notFinite', 'statistic', undefined, message);
}

/** Undefined when the statistic has no value without one of the units. */
function jackknife(
  units: ResamplingUnits,
  ask: (rows: Int32Array) => number | NotEstimable,
): Float64Array | undefined {
  const influence: number[] = [];
  for (const stratum of units.strata) {
    const values: number[] = [];
    for (let left = 0; left < stratum.length; left += 1) {
      const value = ask(units.without(stratum[left]));
      if (typeof value !== 'number') return undefined;
      values.push(value);
    }
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    for (const value of values) influence.push((values.length - 1) * (mean - value));
  }
  return Float64Array.from(influence);
}
