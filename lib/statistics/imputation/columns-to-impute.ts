import { type Column, checkCodes, checkEqualLengths, checkFinite } from '../check-input';
import { StatisticsError } from '../errors';

/** A column whose missing values are null. */
type ColumnWithGaps = ArrayLike<number | null>;

/**
 * What a column holds, and so how it is imputed: `complete` columns (numbers) are never imputed and may lack nothing, such
 * as the treatment, the outcome or the Nelson-Aalen hazard; `numeric` by predictive mean matching, `binary` (0 and 1) and
 * `categories` (codes 0, 1, ..) by logistic and multinomial regression. Categories predict by one indicator each.
 */
export type ColumnToImpute =
  | { readonly kind: 'complete'; readonly values: Column }
  | { readonly kind: 'numeric' | 'binary' | 'categories'; readonly values: ColumnWithGaps };

export type CheckedColumn = {
  readonly kind: ColumnToImpute['kind'];
  /** 0 where missing. */
  readonly values: Float64Array;
  readonly missing: Int32Array;
  readonly observed: Int32Array;
  /** Of `binary` and `categories`: how many there are. */
  readonly categoryCount: number;
};

/** @throws StatisticsError unequalLengths, notFinite, unknownCode. */
export function checkColumnsToImpute(columns: readonly ColumnToImpute[]): CheckedColumn[] {
  const named = columns.map(({ values }, j): [string, { readonly length: number }] => [
    nameOf(j),
    { length: values.length },
  ]);
  checkEqualLengths(Object.fromEntries(named.map(([name, { length }]) => [name, { length }])));
  return columns.map((column, j) => checkColumn(column, nameOf(j)));
}

const nameOf = (j: number): string => `columns[${j}]`;

function checkColumn({ kind, values }: ColumnToImpute, name: string): CheckedColumn {
  const missing: number[] = [];
  const observed: number[] = [];
  const filled = new Float64Array(values.length);
  for (let i = 0; i < values.length; i += 1) {
    const value = values[i];
    if (value === null) missing.push(i);
    else {
      observed.push(i);
      filled[i] = value;
    }
  }
  if (kind === 'complete' && missing.length > 0) {
    const message = `${name}[${missing[0]}] is missing; a complete column lacks nothing. Leave such rows out, or say how to impute it.`;
    throw new StatisticsError('notFinite', name, missing[0], message);
  }
  checkFinite(name, filled);
  let categoryCount = 0;
  if (kind === 'binary') categoryCount = 2;
  if (kind === 'categories') for (const value of filled) categoryCount = Math.max(categoryCount, value + 1);
  if (categoryCount > 0) checkCodes(name, filled, Math.ceil(categoryCount));
  return {
    kind,
    values: filled,
    missing: Int32Array.from(missing),
    observed: Int32Array.from(observed),
    categoryCount,
  };
}
