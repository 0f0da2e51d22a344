import { type NotEstimable, notEstimable } from '../absence';
import { checkCount } from '../check-counts';
import { type Column, checkTimes } from '../check-input';
import { tabulateEvents } from '../survival/event-table';
import type { BootstrapOptions } from './bootstrap';
import { type BootstrapInterval, deriveBootstrapLimits } from './bootstrap-limits';
import { type DepartureCells, departureCells, survivalInfluence, survivalOfCounts } from './departure-cells';
import { fillMultinomial } from './draws';
import { deriveGenerator } from './generator';
import { summariseReplicates } from './summarise-replicates';

export type BootstrappedSurvival = {
  readonly kind: 'estimated';
  readonly timeDays: number;
  readonly survival: number;
  readonly replicates: Float64Array;
  readonly mean: number;
  readonly standardError: number;
  readonly interval: BootstrapInterval | NotEstimable;
};

/** Rows are drawn one by one up to so many rows per cell; beyond, a binomial draw per cell is quicker. */
const ROWS_PER_CELL = 24;
/** The generator's row by row draw is exact up to here. */
const MOST_ROWS = 2 ** 21;

/**
 * Kaplan-Meier values with their bootstrap distribution, drawn exactly: rows with the same time and status are one cell, and
 * a replicate is a multinomial draw over the cells.
 *
 * Estimand: S(t) at each time asked for. Formula: Efron (JASA 1981;76:312): rows (time, event) drawn with replacement;
 * limits as deriveBootstrapLimits, for BCa with the influence of each row on S(t), the limit of the jackknife: with Y at
 * risk and d events, -S (1/(Y - d) at an own event up to t, minus the sum of d/(Y (Y - d)) over event times at risk up to t).
 * Ties and risk sets as estimateKaplanMeier. A replicate in which everybody left before t carries its last value.
 * Late entries, strata and clusters: use estimateByBootstrap with estimateKaplanMeier.
 * Not estimable: no rows; fewer than two replicates; the interval where deriveBootstrapLimits has none (as before the
 * first event).
 * Shapes: columns of equal length; one result per time. Units: days. The same seed gives the same replicates.
 * @throws StatisticsError unequalLengths, notFinite, negative, unknownCode (event), outOfRange (`confidenceLevel`), as
 * deriveGenerator (seed), as checkCount (replicates).
 */
export function estimateSurvivalByBootstrap(
  data: { readonly timeDays: Column; readonly event: Column },
  times: Column,
  options: BootstrapOptions,
): (BootstrappedSurvival | NotEstimable)[] {
  const { seed, replicates = 2000, limits = 'percentile', confidenceLevel = 0.95 } = options;
  const { timeDays, event } = data;
  checkTimes('times', times);
  checkCount('replicates', replicates);
  const generator = deriveGenerator(seed);
  const table = tabulateEvents({ timeDays, code: event, codeName: 'event' }, 1, 2);
  const rows = timeDays.length;
  const refused = rows === 0 ? 'noRows' : replicates < 2 ? 'tooFewReplicates' : undefined;
  if (refused) return Array.from(times, () => notEstimable(refused));
  const cells = departureCells(table, times);
  const values = Array.from(times, () => new Float64Array(replicates));
  const found = new Float64Array(times.length);
  const draw = drawerOf(cells, rows);
  const counts = new Int32Array(cells.counts.length);
  for (let b = 0; b < replicates; b += 1) {
    draw(generator, counts);
    survivalOfCounts(cells, counts, rows, found);
    for (const [k, column] of values.entries()) column[b] = found[k];
  }
  survivalOfCounts(cells, cells.counts, rows, found);
  return values.map((column, k) => ({
    kind: 'estimated',
    timeDays: times[k],
    survival: found[k],
    replicates: column,
    ...summariseReplicates(column),
    interval: deriveBootstrapLimits(
      {
        estimate: found[k],
        replicates: column,
        ...(limits === 'bca'
          ? { influence: survivalInfluence(cells, rows, k), multiplicity: cells.counts }
          : {}),
      },
      { limits, confidenceLevel },
    ),
  }));
}

function drawerOf(
  cells: DepartureCells,
  rows: number,
): (generator: ReturnType<typeof deriveGenerator>, counts: Int32Array) => void {
  if (rows > MOST_ROWS || rows > ROWS_PER_CELL * cells.counts.length)
    return (generator, counts) => fillMultinomial(generator, rows, cells.counts, counts);
  const cellOfRow = new Int32Array(rows);
  let filled = 0;
  for (const [cell, count] of cells.counts.entries()) {
    cellOfRow.fill(cell, filled, filled + count);
    filled += count;
  }
  return (generator, counts) => {
    counts.fill(0);
    generator.countDraws(cellOfRow, counts);
  };
}
