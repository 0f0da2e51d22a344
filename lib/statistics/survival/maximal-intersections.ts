import { type Column, checkEqualLengths, checkTimes } from '../check-input';
import { StatisticsError } from '../errors';
import { mergeEqualTimes, placeOnGrid } from './equal-times';

/** Event times known to lie in (left, right]; known exactly where left = right; beyond left where right is Infinity. */
export type IntervalData = {
  readonly leftDays: Column;
  readonly rightDays: Column;
};

/** Where mass can lie, and how the cases cover it. */
export type IntervalCells = {
  readonly n: number;
  /** Cells in order of time: (left, right], or the point left = right. */
  readonly left: Float64Array;
  readonly right: Float64Array;
  /** Each distinct kind of case: it covers the cells first..last. */
  readonly first: Int32Array;
  readonly last: Int32Array;
  /** How many cases are of that kind. */
  readonly cases: Float64Array;
};

/** @throws StatisticsError unequalLengths, notFinite, negative, outOfRange (right before left). */
export function checkIntervals({ leftDays, rightDays }: IntervalData): void {
  checkEqualLengths({ leftDays, rightDays });
  checkTimes('leftDays', leftDays);
  for (let i = 0; i < rightDays.length; i += 1) {
    const right: unknown = rightDays[i];
    if (typeof right !== 'number' || Number.isNaN(right)) {
      const message = `rightDays[${i}] is ${String(right)}; give a time, or Infinity where no event was seen.`;
      throw new StatisticsError('notFinite', 'rightDays', i, message);
    }
    if (right < leftDays[i]) {
      const message = `rightDays[${i}] is ${right} but leftDays[${i}] is ${leftDays[i]}; an interval must not end before it begins.`;
      throw new StatisticsError('outOfRange', 'rightDays', i, message);
    }
  }
}

/**
 * The maximal intersections of the intervals (Turnbull 1976; Peto 1973): each begins where some interval begins and ends at
 * the next place where one ends. Only there can the estimate have mass, and how it lies inside a cell changes nothing.
 * Every place of time has three keys, in order: an exact time begins, anything ends, an open interval begins.
 */
export function deriveIntervalCells(data: IntervalData): IntervalCells {
  const { leftDays, rightDays } = data;
  const n = leftDays.length;
  const finite = Array.from(rightDays).filter((right) => right < Number.POSITIVE_INFINITY);
  const times = mergeEqualTimes(leftDays, finite);
  const opens = new Int32Array(n);
  const closes = new Int32Array(n);
  const opened = new Uint8Array(3 * times.length + 2);
  const closed = new Uint8Array(3 * times.length + 2);
  for (let i = 0; i < n; i += 1) {
    const left = placeOnGrid(times, leftDays[i]);
    const right = rightDays[i] < Number.POSITIVE_INFINITY ? placeOnGrid(times, rightDays[i]) : times.length;
    opens[i] = left === right ? 3 * left : 3 * left + 2;
    closes[i] = 3 * right + 1;
    opened[opens[i]] = 1;
    closed[closes[i]] = 1;
  }
  const cells = intersect(opened, closed);
  const timeAt = (key: number): number =>
    key < 3 * times.length ? times[Math.floor(key / 3)] : Number.POSITIVE_INFINITY;
  return {
    n,
    left: Float64Array.from(cells.from, timeAt),
    right: Float64Array.from(cells.to, timeAt),
    ...countKinds(opens, closes, cells),
  };
}

type CellKeys = {
  readonly from: number[];
  readonly to: number[];
  /** How many cells begin before each key, and how many have ended by it. */
  readonly begunBefore: Int32Array;
  readonly endedBy: Int32Array;
};

function intersect(opened: Uint8Array, closed: Uint8Array): CellKeys {
  const from: number[] = [];
  const to: number[] = [];
  const begunBefore = new Int32Array(opened.length);
  const endedBy = new Int32Array(opened.length);
  let begin = -1;
  for (let key = 0; key < opened.length; key += 1) {
    if (opened[key]) begin = key;
    if (closed[key] && begin >= 0) {
      from.push(begin);
      to.push(key);
      begin = -1;
    }
    endedBy[key] = to.length;
  }
  for (let key = 0, cell = 0; key < opened.length; key += 1) {
    begunBefore[key] = cell;
    if (from[cell] === key) cell += 1;
  }
  return { from, to, begunBefore, endedBy };
}

function countKinds(
  opens: Int32Array,
  closes: Int32Array,
  { from, begunBefore, endedBy }: CellKeys,
): Pick<IntervalCells, 'first' | 'last' | 'cases'> {
  const kinds = new Map<number, number>();
  const first: number[] = [];
  const last: number[] = [];
  const cases: number[] = [];
  for (let i = 0; i < opens.length; i += 1) {
    const begin = begunBefore[opens[i]];
    const end = endedBy[closes[i]] - 1;
    const key = begin * from.length + end;
    const kind = kinds.get(key);
    if (kind === undefined) {
      kinds.set(key, cases.length);
      first.push(begin);
      last.push(end);
      cases.push(1);
    } else cases[kind] += 1;
  }
  return { first: Int32Array.from(first), last: Int32Array.from(last), cases: Float64Array.from(cases) };
}
