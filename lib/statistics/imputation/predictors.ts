import type { CheckedColumn } from './columns-to-impute';

/**
 * What predicts one column: an intercept and all other columns as they stand filled, categories as one indicator each but
 * the first, every column centred and divided by its standard deviation (columns that do not vary are all 0).
 */
export function buildPredictors(
  columns: readonly CheckedColumn[],
  filled: readonly Float64Array[],
  target: number,
): Float64Array[] {
  const rows = filled[target].length;
  const predictors = [new Float64Array(rows).fill(1)];
  for (const [j, column] of columns.entries()) {
    if (j === target) continue;
    if (column.kind !== 'categories') predictors.push(standardise(filled[j]));
    else
      for (let code = 1; code < column.categoryCount; code += 1)
        predictors.push(standardise(filled[j].map((value) => (value === code ? 1 : 0))));
  }
  return predictors;
}

function standardise(column: Float64Array): Float64Array<ArrayBuffer> {
  let sum = 0;
  for (const value of column) sum += value;
  const mean = sum / column.length;
  let squares = 0;
  for (const value of column) squares += (value - mean) ** 2;
  const spread = Math.sqrt(squares / column.length);
  // What rounding leaves of a constant is no spread.
  return spread > 1e-12 * Math.abs(mean)
    ? column.map((value) => (value - mean) / spread)
    : column.map(() => 0);
}
