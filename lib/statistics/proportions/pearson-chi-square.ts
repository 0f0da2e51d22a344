import { type NotEstimable, notEstimable } from '../absence';
import { checkTable } from '../check-counts';
import type { Column } from '../check-input';
import { StatisticsError } from '../errors';
import { chiSquareUpperTail } from '../special/chi-square';

export type ChiSquareTest = {
  readonly kind: 'tested';
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
  readonly pValue: number;
};

/**
 * Pearson's chi-square test of independence of rows and columns.
 *
 * Estimand: the hypothesis that every row has the same distribution over the columns (two arms: equal proportions).
 * Formula: sum (observed - expected)^2/expected, expected = row total x column total/n (Pearson 1900); with
 * `continuityCorrection`, for 2 x 2 only, each distance is shortened by 1/2 but never below 0 (Yates 1934). Rows and
 * columns without cases carry nothing and leave the degrees of freedom (rows - 1)(columns - 1).
 * Shapes: table[i][j] counts; two arms are the rows [events, non-events].
 * Not estimable: fewer than two rows with cases, or all cases in one column.
 * @throws StatisticsError notFinite, negative, notInteger, unequalLengths, outOfRange (too small, or correction of more
 * than 2 x 2).
 */
export function testPearsonChiSquare(
  table: readonly Column[],
  options: { readonly continuityCorrection?: boolean } = {},
): ChiSquareTest | NotEstimable {
  const { continuityCorrection = false } = options;
  const { rows, columns } = checkTable('table', table, 2);
  if (continuityCorrection && (rows > 2 || columns > 2)) {
    const message = `continuityCorrection is for two rows and two columns; the table has ${rows} and ${columns}.`;
    throw new StatisticsError('outOfRange', 'continuityCorrection', undefined, message);
  }
  const rowTotals = new Float64Array(rows);
  const columnTotals = new Float64Array(columns);
  let n = 0;
  for (let i = 0; i < rows; i += 1) {
    for (let j = 0; j < columns; j += 1) {
      rowTotals[i] += table[i][j];
      columnTotals[j] += table[i][j];
      n += table[i][j];
    }
  }
  const rowsUsed = rowTotals.filter((total) => total > 0).length;
  const columnsUsed = columnTotals.filter((total) => total > 0).length;
  if (rowsUsed < 2) return notEstimable('emptyArm');
  if (columnsUsed < 2) return notEstimable('oneOutcome');
  let chiSquare = 0;
  for (let i = 0; i < rows; i += 1) {
    for (let j = 0; j < columns; j += 1) {
      const expected = (rowTotals[i] / n) * columnTotals[j];
      if (expected === 0) continue;
      const distance = Math.abs(table[i][j] - expected);
      const counted = continuityCorrection ? Math.max(0, distance - 0.5) : distance;
      chiSquare += (counted * counted) / expected;
    }
  }
  const degreesOfFreedom = (rowsUsed - 1) * (columnsUsed - 1);
  return {
    kind: 'tested',
    chiSquare,
    degreesOfFreedom,
    pValue: chiSquareUpperTail(chiSquare, degreesOfFreedom),
  };
}
