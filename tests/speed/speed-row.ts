import type { SpeedCohort } from './cohort';

type RowFacts = {
  readonly name: string;
  /** How many cases it takes where not all that are asked for. */
  readonly atMost?: number;
  /** A loop that only reads the columns which the library reads. */
  readonly bare: (cohort: SpeedCohort) => number;
  readonly r: {
    readonly packages: readonly string[];
    /** What is timed, in terms of the columns' names. */
    readonly call: string;
    /** A numeric vector made of `result`, which the call returned; not timed. */
    readonly numbers: string;
    /** A call of minutes: once, and only when asked for (--slow). */
    readonly slow?: true;
  };
  /** The largest relative difference from R's numbers that counts as agreement. */
  readonly agreement: number;
  readonly target: { readonly timesFasterThanR?: number; readonly timesBare?: number };
};

/** One line of the table: what the library computes, what it is held against, and the targets. */
export type SpeedRow = RowFacts & {
  readonly start: (cohort: SpeedCohort) => {
    readonly run: () => void;
    /** The last answer, as R's numbers in R's order. */
    readonly numbers: () => number[];
  };
};

export function speedRow<Result>(
  row: RowFacts & {
    readonly library: (cohort: SpeedCohort) => Result;
    readonly numbers: (result: Result) => number[];
  },
): SpeedRow {
  const { library, numbers, ...facts } = row;
  return {
    ...facts,
    start: (cohort) => {
      let result = library(cohort);
      return {
        run: () => {
          result = library(cohort);
        },
        numbers: () => numbers(result),
      };
    },
  };
}
