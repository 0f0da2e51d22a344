import { logGamma } from '../special/log-gamma';

/**
 * A node: what the rows still have to give once some columns are filled, ascending, as the digits of one whole number.
 * Rows in the same state, in whatever order, share a node.
 */
export type TableNode = number;

/** Steps of the count after which a table is given up: some seconds. */
const MOST_STEPS = 50_000_000;

/**
 * The network of all tables with given totals (Mehta & Patel, JASA 1983;78:427).
 *
 * Weights are products of multinomial coefficients, one per column: column total!/(cells!). Over all ways to fill the
 * remaining columns they add to (what remains)!/(what each row has left)!.
 */
export class TableNetwork {
  readonly start: TableNode;
  /** Fillings looked at so far: the measure of the work. */
  steps = 0;
  private readonly columnTotals: readonly number[];
  private readonly rowCount: number;
  private readonly base: number;
  private readonly logFactorials: Float64Array;
  /** Room for encode to sort in. */
  private readonly sorted: Int32Array;
  private readonly knownBounds: Map<TableNode, Bounds>[];

  /** Null when a node does not fit into a whole number that a double holds exactly. */
  static of(rowTotals: readonly number[], columnTotals: readonly number[]): TableNetwork | null {
    const digits = (Math.max(...rowTotals) + 1) ** rowTotals.length;
    return digits <= Number.MAX_SAFE_INTEGER ? new TableNetwork(rowTotals, columnTotals) : null;
  }

  private constructor(rowTotals: readonly number[], columnTotals: readonly number[]) {
    this.columnTotals = columnTotals;
    this.rowCount = rowTotals.length;
    this.base = Math.max(...rowTotals) + 1;
    this.sorted = new Int32Array(this.rowCount);
    this.start = this.encode(rowTotals);
    const n = rowTotals.reduce((sum, total) => sum + total, 0);
    this.logFactorials = Float64Array.from({ length: n + 1 }, (_, x) => logGamma(x + 1));
    this.knownBounds = columnTotals.map(() => new Map());
  }

  /** Given up: nothing found from here on can be relied on. */
  get exhausted(): boolean {
    return this.steps > MOST_STEPS;
  }

  logFactorial(x: number): number {
    return this.logFactorials[x];
  }

  /** log of the sum of weights over all ways to go on from a node. */
  logRest(node: TableNode): number {
    let left = 0;
    let log = 0;
    for (let rest = node; rest > 0; rest = Math.floor(rest / this.base)) {
      const row = rest % this.base;
      left += row;
      log -= this.logFactorials[row];
    }
    return log + this.logFactorials[left];
  }

  /** log of the largest and of the smallest weight of a way on from a node, with this column the next to fill. */
  bounds(column: number, node: TableNode): Bounds {
    if (column === this.columnTotals.length - 1) {
      const only = this.logRest(node);
      return { longest: only, shortest: only };
    }
    const found = this.knownBounds[column].get(node);
    if (found) return found;
    let longest = Number.NEGATIVE_INFINITY;
    let shortest = Number.POSITIVE_INFINITY;
    this.forEachFilling(column, node, (left, logWeight) => {
      const rest = this.bounds(column + 1, left);
      longest = Math.max(longest, logWeight + rest.longest);
      shortest = Math.min(shortest, logWeight + rest.shortest);
    });
    const bounds = { longest, shortest };
    this.knownBounds[column].set(node, bounds);
    return bounds;
  }

  /** The log weights of all ways on from a node with two columns to fill, ascending. */
  lastWeights(node: TableNode): Float64Array {
    const weights: number[] = [];
    this.forEachFilling(this.columnTotals.length - 2, node, (left, logWeight) =>
      weights.push(logWeight + this.logRest(left)),
    );
    return Float64Array.from(weights).sort();
  }

  /** Visits every way to fill a column from a node: the node it leads to, and the log weight of the column. */
  forEachFilling(column: number, node: TableNode, visit: (left: TableNode, logWeight: number) => void): void {
    if (this.exhausted) return;
    const rows = this.rowsOf(node);
    const left = rows.slice();
    const room = new Int32Array(this.rowCount);
    for (let i = this.rowCount - 2; i >= 0; i -= 1) room[i] = room[i + 1] + rows[i + 1];
    const fill = (i: number, open: number, logWeight: number): void => {
      if (i === this.rowCount) {
        this.steps += 1;
        visit(this.encode(left), logWeight);
        return;
      }
      const most = Math.min(rows[i], open);
      for (let x = Math.max(0, open - room[i]); x <= most; x += 1) {
        left[i] = rows[i] - x;
        fill(i + 1, open - x, logWeight - this.logFactorials[x]);
      }
    };
    fill(0, this.columnTotals[column], this.logFactorials[this.columnTotals[column]]);
  }

  private encode(rows: ArrayLike<number>): TableNode {
    const { sorted } = this;
    for (let i = 0; i < sorted.length; i += 1) {
      let place = i;
      for (; place > 0 && sorted[place - 1] > rows[i]; place -= 1) sorted[place] = sorted[place - 1];
      sorted[place] = rows[i];
    }
    let node = 0;
    for (let i = 0; i < sorted.length; i += 1) node = node * this.base + sorted[i];
    return node;
  }

  private rowsOf(node: TableNode): Int32Array {
    const rows = new Int32Array(this.rowCount);
    let rest = node;
    for (let i = this.rowCount - 1; i >= 0; i -= 1) {
      rows[i] = rest % this.base;
      rest = Math.floor(rest / this.base);
    }
    return rows;
  }
}

type Bounds = { readonly longest: number; readonly shortest: number };
