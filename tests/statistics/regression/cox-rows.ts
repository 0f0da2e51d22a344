import fc from 'fast-check';
import type { CoxData } from '@/lib/statistics';

/** Generated rows with two covariates, ties, delayed entries, weights, strata and clusters. */
export type CoxRows = {
  readonly timeDays: number[];
  readonly event: number[];
  readonly covariates: number[][];
  readonly entryDays: number[];
  readonly weights: number[];
  readonly strata: number[];
  readonly cluster: number[];
  readonly offset: number[];
};

const row = fc.record({
  day: fc.integer({ min: 1, max: 20 }),
  event: fc.integer({ min: 0, max: 1 }),
  arm: fc.integer({ min: 0, max: 1 }),
  marker: fc.integer({ min: -4, max: 5 }),
  entryShare: fc.integer({ min: 0, max: 9 }),
  weight: fc.integer({ min: 1, max: 3 }),
  stratum: fc.integer({ min: 0, max: 1 }),
  cluster: fc.integer({ min: 0, max: 9 }),
  offset: fc.integer({ min: -2, max: 2 }),
});

/** Enough rows that most fits have a maximum; distinct times where `tied` is false. */
export function coxRows(tied = true): fc.Arbitrary<CoxRows> {
  return fc.array(row, { minLength: 12, maxLength: 40 }).map((rows) => {
    const timeDays = rows.map(({ day }, i) => (tied ? day : 1 + ((i * 17) % 41)));
    return {
      timeDays,
      event: rows.map(({ event }) => event),
      covariates: [rows.map(({ arm }) => arm), rows.map(({ marker }) => marker)],
      entryDays: rows.map(({ entryShare }, i) => Math.floor((timeDays[i] * entryShare) / 10)),
      weights: rows.map(({ weight }) => weight),
      strata: rows.map(({ stratum }) => stratum),
      cluster: rows.map(({ cluster }) => cluster),
      offset: rows.map(({ offset }) => offset / 4),
    };
  });
}

/** Times, events and covariates alone. */
export const plain = ({ timeDays, event, covariates }: CoxRows): CoxData => ({ timeDays, event, covariates });

/** The same rows in reverse. */
export function reversedRows(rows: CoxRows): CoxRows {
  return {
    timeDays: rows.timeDays.toReversed(),
    event: rows.event.toReversed(),
    covariates: rows.covariates.map((column) => column.toReversed()),
    entryDays: rows.entryDays.toReversed(),
    weights: rows.weights.toReversed(),
    strata: rows.strata.toReversed(),
    cluster: rows.cluster.toReversed(),
    offset: rows.offset.toReversed(),
  };
}

/** Each row as many times as its weight says, without weights. */
export function replicated({ timeDays, event, covariates, entryDays, weights, strata }: CoxRows): CoxData {
  const copies = <T>(column: readonly T[]): T[] => column.flatMap((v, i) => new Array<T>(weights[i]).fill(v));
  return {
    timeDays: copies(timeDays),
    event: copies(event),
    covariates: covariates.map(copies),
    entryDays: copies(entryDays),
    strata: copies(strata),
  };
}
