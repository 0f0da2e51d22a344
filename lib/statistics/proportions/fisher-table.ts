import { type NotEstimable, notEstimable } from '../absence';
import { checkTable } from '../check-counts';
import type { Column } from '../check-input';
import { EQUALLY_LIKELY } from './fisher';
import { TableNetwork, type TableNode } from './table-network';

export type FisherTableTest = { readonly kind: 'tested'; readonly pValue: number };

/**
 * Fisher's exact test of independence in a table of any size (Freeman & Halton, Biometrika 1951;38:141).
 *
 * Estimand: the hypothesis that every row has the same distribution over the columns, conditional on all totals.
 * Formula: the summed probability of all tables with these totals that are at most as likely as the table seen (relative
 * tolerance 1e-7), counted exactly by the network algorithm of Mehta & Patel (JASA 1983;78:427): branches that lie
 * wholly inside or outside are not walked.
 * Shapes: table[i][j] counts. Empty rows and columns carry nothing; with one row or column left the p value is 1.
 * Not estimable: no cases; a table that would take more than some fifty million steps.
 * @throws StatisticsError notFinite, negative, notInteger, unequalLengths, outOfRange.
 */
export function testFisherExactTable(table: readonly Column[]): FisherTableTest | NotEstimable {
  const { rows, columns } = checkTable('table', table, 2);
  const rowTotals = new Array<number>(rows).fill(0);
  const columnTotals = new Array<number>(columns).fill(0);
  for (let i = 0; i < rows; i += 1) {
    for (let j = 0; j < columns; j += 1) {
      rowTotals[i] += table[i][j];
      columnTotals[j] += table[i][j];
    }
  }
  const filledRows = rowTotals.filter((total) => total > 0).sort((a, b) => a - b);
  const filledColumns = columnTotals.filter((total) => total > 0).sort((a, b) => a - b);
  if (filledRows.length === 0) return notEstimable('noRows');
  if (filledRows.length === 1 || filledColumns.length === 1) return { kind: 'tested', pValue: 1 };
  const cells = table.flatMap((row) => Array.from(row));
  // A node is a set of row totals: the side with fewer entries makes the fewer nodes.
  return filledRows.length <= filledColumns.length
    ? countTables(filledRows, filledColumns, cells)
    : countTables(filledColumns, filledRows, cells);
}

/** The ways that lead to a node, gathered by their weight: how many there are of each. */
type Ways = Map<number, { readonly logWeight: number; count: number }>;

function countTables(
  rows: readonly number[],
  columns: readonly number[],
  cells: readonly number[],
): FisherTableTest | NotEstimable {
  const network = TableNetwork.of(rows, columns);
  if (!network) return notEstimable('tableTooLarge');
  const logAll = network.logRest(network.start);
  let limit = Math.log(EQUALLY_LIKELY);
  for (const total of columns) limit += network.logFactorial(total);
  for (const cell of cells) limit -= network.logFactorial(cell);
  let nodes = new Map<TableNode, Ways>([[network.start, new Map([[0, { logWeight: 0, count: 1 }]])]]);
  let pValue = 0;
  for (let column = 0; column < columns.length - 2; column += 1) {
    const next = new Map<TableNode, Ways>();
    for (const [node, ways] of nodes) {
      network.forEachFilling(column, node, (left, logStep) => {
        const { longest, shortest } = network.bounds(column + 1, left);
        const rest = network.logRest(left) - logAll;
        network.steps += ways.size;
        for (const way of ways.values()) {
          const logWeight = way.logWeight + logStep;
          if (logWeight + longest <= limit) pValue += way.count * Math.exp(logWeight + rest);
          else if (logWeight + shortest <= limit) addWays(next, left, logWeight, way.count);
        }
      });
      if (network.exhausted) return notEstimable('tableTooLarge');
    }
    nodes = next;
  }
  for (const [node, ways] of nodes) {
    pValue += shareWithin(network, node, ways, limit, logAll);
    if (network.exhausted) return notEstimable('tableTooLarge');
  }
  return { kind: 'tested', pValue: Math.min(1, pValue) };
}

/** With two columns left: the probability of the tables through this node whose weight is within the limit. */
function shareWithin(
  network: TableNetwork,
  node: TableNode,
  ways: Ways,
  limit: number,
  logAll: number,
): number {
  const weights = network.lastWeights(node);
  const rest = network.logRest(node);
  const sums = new Float64Array(weights.length + 1);
  for (let i = 0; i < weights.length; i += 1) sums[i + 1] = sums[i] + Math.exp(weights[i] - rest);
  let share = 0;
  for (const { logWeight, count } of ways.values()) {
    let within = 0;
    let beyond = weights.length;
    while (within < beyond) {
      const middle = (within + beyond) >> 1;
      if (logWeight + weights[middle] <= limit) within = middle + 1;
      else beyond = middle;
    }
    share += count * Math.exp(logWeight + rest - logAll) * sums[within];
  }
  return share;
}

function addWays(nodes: Map<TableNode, Ways>, node: TableNode, logWeight: number, count: number): void {
  let ways = nodes.get(node);
  if (!ways) {
    ways = new Map();
    nodes.set(node, ways);
  }
  // Equal weights differ by rounding only, far below the tolerance of the comparison.
  const slot = Math.round(logWeight * 1e9);
  const known = ways.get(slot);
  if (known) known.count += count;
  else ways.set(slot, { logWeight, count });
}
