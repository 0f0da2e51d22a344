import { type NotEstimable, notEstimable } from '../absence';
import { checkCount } from '../check-counts';
import { StatisticsError } from '../errors';
import { deriveGenerator, RandomGenerator } from '../resampling/generator';
import { drawCategories } from './category-draws';
import { type CheckedColumn, type ColumnToImpute, checkColumnsToImpute } from './columns-to-impute';
import { matchPredictedMeans } from './predictive-mean-matching';
import { buildPredictors } from './predictors';

export type ImputationOptions = {
  /** How many sets. */
  readonly imputations: number;
  readonly seed: number;
  /** Rounds through the columns for each set, 10 unless stated. */
  readonly iterations?: number;
  /** Observed rows that a numeric value is taken from, 5 unless stated. */
  readonly donors?: number;
  /** Called after each set with how many are done. */
  readonly onProgress?: (setsDone: number) => void;
};

export type ImputedSets = {
  readonly kind: 'imputed';
  /** Per set: every column, complete. Columns that lacked nothing are shared between the sets. */
  readonly sets: readonly (readonly Float64Array[])[];
  /**
   * Per column with missing values: mean and variance (n - 1; 0 of a single value) of its imputed values, by sets and
   * within a set by iterations. Lines that rise, fall or stay apart say that more iterations are needed.
   */
  readonly traces: readonly {
    readonly column: number;
    readonly mean: Float64Array;
    readonly variance: Float64Array;
  }[];
};

/**
 * Complete data sets in place of one with gaps, by chained equations.
 *
 * Estimand: draws from the distribution of the missing values given all observed ones, if what is missing depends on nothing
 * but what is observed. The columns must include what the analysis will use: treatment, event indicator, the Nelson-Aalen
 * hazard at the own time (White & Royston, Stat Med 2009;28:1982) and all its covariates.
 * Formula: each missing value starts as an observed one drawn at random; then in turn each column with gaps is regressed on
 * all others as they stand, and its missing values drawn anew: numeric by predictive mean matching, binary and categories by
 * logistic and multinomial regression, coefficients drawn from their posterior distribution (van Buuren, Flexible
 * Imputation of Missing Data 2018, 4.5; methods in matchPredictedMeans and drawCategories).
 * Columns come in the order given. Set k does not depend on how many sets are asked for; the same seed gives the same
 * sets.
 * Not estimable: no rows; a column without any observed value; a regression that does not settle.
 * Shapes: columns of equal length; missing values are null.
 * @throws StatisticsError unequalLengths, notFinite (NaN, or null in a complete column), unknownCode (binary,
 * categories), outOfRange (imputations, iterations, donors of 0), as checkCount and deriveGenerator.
 */
export function imputeByChainedEquations(
  columns: readonly ColumnToImpute[],
  options: ImputationOptions,
): ImputedSets | NotEstimable {
  const { imputations, seed, iterations = 10, donors = 5, onProgress } = options;
  for (const [name, value] of Object.entries({ imputations, iterations, donors }))
    checkPositiveCount(name, value);
  const parent = deriveGenerator(seed);
  const checked = checkColumnsToImpute(columns);
  if (checked.length === 0 || checked[0].values.length === 0) return notEstimable('noRows');
  if (checked.some(({ observed }) => observed.length === 0)) return notEstimable('nothingObserved');
  const targets = Array.from(checked.keys()).filter((j) => checked[j].missing.length > 0);
  const traces = targets.map((column) => ({
    column,
    mean: new Float64Array(imputations * iterations),
    variance: new Float64Array(imputations * iterations),
  }));
  const sets: Float64Array[][] = [];
  for (let set = 0; set < imputations; set += 1) {
    const generator = childOf(parent);
    const filled = startOf(generator, checked);
    for (let round = 0; round < iterations; round += 1) {
      for (const trace of traces) {
        if (!fillColumn(generator, checked, filled, trace.column, donors))
          return notEstimable('noConvergence');
        const { mean, variance } = momentsOf(filled[trace.column], checked[trace.column].missing);
        trace.mean[set * iterations + round] = mean;
        trace.variance[set * iterations + round] = variance;
      }
    }
    sets.push(filled);
    onProgress?.(set + 1);
  }
  return { kind: 'imputed', sets, traces };
}

function checkPositiveCount(name: string, value: number): void {
  checkCount(name, value);
  if (value > 0) return;
  throw new StatisticsError('outOfRange', name, undefined, `${name} is ${value}; give at least 1.`);
}

function childOf(parent: RandomGenerator): RandomGenerator {
  return new RandomGenerator([parent.nextWord(), parent.nextWord(), parent.nextWord(), parent.nextWord()]);
}

/** Each gap takes an observed value drawn at random. */
function startOf(generator: RandomGenerator, checked: readonly CheckedColumn[]): Float64Array[] {
  return checked.map(({ values, missing, observed }) => {
    if (missing.length === 0) return values;
    const filled = values.slice();
    for (const row of missing) filled[row] = values[observed[generator.below(observed.length)]];
    return filled;
  });
}

/** False when the regression does not settle. */
function fillColumn(
  generator: RandomGenerator,
  checked: readonly CheckedColumn[],
  filled: readonly Float64Array[],
  target: number,
  donors: number,
): boolean {
  const column = checked[target];
  const predictors = buildPredictors(checked, filled, target);
  if (column.kind !== 'numeric') return drawCategories(generator, column, predictors, filled[target]);
  matchPredictedMeans(generator, column, predictors, donors, filled[target]);
  return true;
}

function momentsOf(column: Float64Array, rows: Int32Array): { mean: number; variance: number } {
  let sum = 0;
  for (const row of rows) sum += column[row];
  const mean = sum / rows.length;
  let squares = 0;
  for (const row of rows) squares += (column[row] - mean) ** 2;
  return { mean, variance: rows.length > 1 ? squares / (rows.length - 1) : 0 };
}
