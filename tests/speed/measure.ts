import type { SpeedCohort } from './cohort';
import type { RSession } from './r-session';
import type { SpeedRow } from './speed-row';

export type Measured = {
  readonly name: string;
  readonly n: number;
  readonly libraryMs: number;
  readonly bareMs: number;
  /** Undefined where R is not there, or the call is too slow to be asked for. */
  readonly r: { readonly ms: number; readonly difference: number } | undefined;
  readonly row: SpeedRow;
};

/** Turns of library and bare loop between two calls of R: fewer where the library takes longer than this. */
const TURNS = { quick: 9, slow: 3, slowFromMs: 100 };

/** Library, bare loop and R in turn, so that whatever slows the machine slows all of them; medians. */
export async function measureRow(
  row: SpeedRow,
  cohort: SpeedCohort,
  session: RSession | undefined,
  rounds: number,
  slow = false,
): Promise<Measured> {
  const r = row.r.slow && !slow ? undefined : session;
  const started = row.start(cohort);
  const times: Record<'library' | 'bare' | 'r', number[]> = { library: [], bare: [], r: [] };
  // The first turns are not counted: the compiler settles in them.
  const turns = elapsed(started.run) < TURNS.slowFromMs ? TURNS.quick : TURNS.slow;
  for (let turn = 0; turn < turns; turn += 1) {
    started.run();
    row.bare(cohort);
  }
  for (let round = 0; round < rounds; round += 1) {
    for (let turn = 0; turn < turns; turn += 1) {
      times.bare.push(elapsed(() => row.bare(cohort)));
      times.library.push(elapsed(started.run));
    }
    if (r && (round === 0 || !row.r.slow)) times.r.push(await r.time(row.r.call));
  }
  const difference = r && largestDifference(started.numbers(), await r.numbers(row.r.numbers));
  return {
    name: row.name,
    n: cohort.n,
    libraryMs: median(times.library),
    bareMs: median(times.bare),
    r: difference === undefined ? undefined : { ms: median(times.r), difference },
    row,
  };
}

function elapsed(run: () => unknown): number {
  const started = performance.now();
  run();
  return performance.now() - started;
}

export function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
}

/** The largest relative difference; infinite where the lengths differ or only one side has a number. */
export function largestDifference(got: readonly number[], expected: Float64Array): number {
  if (got.length !== expected.length) return Number.POSITIVE_INFINITY;
  return expected.reduce((largest, want, i) => {
    // What the library calls not estimable is no number to compare; R prints what its formula gives there.
    if (Number.isNaN(got[i]) || got[i] === want) return largest;
    const difference = Math.abs(got[i] - want) / Math.abs(want);
    return Number.isNaN(difference) ? Number.POSITIVE_INFINITY : Math.max(largest, difference);
  }, 0);
}
