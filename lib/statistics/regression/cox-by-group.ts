import { type NotEstimable, notEstimable } from '../absence';
import { checkConfidenceLevel, countCodes } from '../check-input';
import { StatisticsError } from '../errors';
import { normalUpperQuantile } from '../special/normal';
import { type EventTable, tabulateEvents } from '../survival/event-table';
import type { GroupedSurvivalData } from '../survival/kaplan-meier';
import { type LogRankData, sumLogRank } from '../survival/log-rank-sums';
import { tabulateStrata } from '../survival/strata';
import { fitDesign } from './cox';
import type { CoxTies } from './cox-cells';
import type { CoxData } from './cox-data';
import { buildDesign, type CoxDesign } from './cox-design';
import type { CoxFit, CoxMonotone } from './cox-result';

export type GroupedCoxData = Omit<GroupedSurvivalData, 'entryDays'> & Pick<LogRankData, 'strata'>;

export type GroupedCoxOptions = {
  readonly ties?: CoxTies;
  readonly confidenceLevel?: number;
  /** Groups are 0..groupCount - 1; by default the largest code found plus one. */
  readonly groupCount?: number;
  /** The group that the others are compared with; 0 unless stated. */
  readonly reference?: number;
};

/**
 * Hazard ratios of groups against one of them: fitCox with a column of 0 and 1 for each other group, from counts.
 *
 * Estimand, formula, ties and what is not estimable: as fitCox, variance from the model. Rows are counted once into days and groups, so
 * that a fit of a million rows costs little more than a look at them.
 * Coefficients: one per group but the reference, in order of codes. Not estimable (`noOverlap`): a group that never was
 * at risk together with the reference, directly or through others, at an event; `collinear`: one that a monotone limit leaves open.
 * Shapes: columns of equal length; group codes 0..groupCount - 1, stratum codes any. Units: days.
 * @throws StatisticsError unequalLengths, notFinite, negative, unknownCode, outOfRange.
 */
export function fitCoxByGroup(
  data: GroupedCoxData,
  options: GroupedCoxOptions = {},
): CoxFit | CoxMonotone | NotEstimable {
  const { ties = 'efron', confidenceLevel = 0.95, reference = 0 } = options;
  checkConfidenceLevel(confidenceLevel);
  const groupCount = countCodes('group', data.group, options.groupCount);
  checkReference(reference, groupCount);
  const { timeDays, event, group, strata } = data;
  const columns = { timeDays, code: event, codeName: 'event', group };
  const tables = strata
    ? Array.from(tabulateStrata({ ...columns, strata }, groupCount, 2))
    : [tabulateEvents(columns, groupCount, 2)];
  const others = Array.from({ length: groupCount }, (_, g) => g).filter((g) => g !== reference);
  if (others.length === 0) return notEstimable(timeDays.length === 0 ? 'noRows' : 'fewerThanTwoGroups');
  const quantile = normalUpperQuantile((1 - confidenceLevel) / 2);
  const design = designOfCounts(countedRows(tables, others));
  const fit = fitDesign(design, timeDays.length, { ties, cluster: undefined, quantile });
  if (fit.kind === 'notEstimable') return fit;
  const { component } = sumLogRank(data, { groupCount });
  const met = <T>(found: T, j: number): T | NotEstimable =>
    component[others[j]] === component[reference] ? found : notEstimable('noOverlap');
  return fit.kind === 'fitted'
    ? { ...fit, coefficients: fit.coefficients.map(met) }
    : { ...fit, coefficients: fit.coefficients.map(met) };
}

function checkReference(reference: number, groupCount: number): void {
  if (Number.isInteger(reference) && reference >= 0 && reference < Math.max(1, groupCount)) return;
  const message = `reference is ${reference}; give the code of a group, 0 to ${groupCount - 1}.`;
  throw new StatisticsError('outOfRange', 'reference', undefined, message);
}

/** A row per time, group, outcome and stratum that occurs; its weight says how many rows of the data it is. */
function countedRows(tables: readonly EventTable[], others: readonly number[]): CoxData {
  let rows = 0;
  for (const { exits } of tables) for (let k = 0; k < exits.length; k += 1) if (exits[k] > 0) rows += 1;
  const timeDays = new Float64Array(rows);
  const event = new Uint8Array(rows);
  const weights = new Float64Array(rows);
  const strata = new Int32Array(rows);
  const covariates = others.map(() => new Float64Array(rows));
  let row = 0;
  for (const [stratum, { times, groupCount, exits }] of tables.entries()) {
    const columnOf = Int32Array.from({ length: groupCount }, (_, g) => others.indexOf(g));
    for (let j = 0, cell = 0; j < times.length; j += 1) {
      for (let g = 0; g < groupCount; g += 1) {
        for (let outcome = 0; outcome < 2; outcome += 1, cell += 1) {
          if (exits[cell] === 0) continue;
          timeDays[row] = times[j];
          event[row] = outcome;
          weights[row] = exits[cell];
          strata[row] = stratum;
          if (columnOf[g] >= 0) covariates[columnOf[g]][row] = 1;
          row += 1;
        }
      }
    }
  }
  const columns = { timeDays, event, covariates, weights };
  return tables.length > 1 ? { ...columns, strata } : columns;
}

/** Counts are not weights where events are tied: each of them is an event of its own. */
function designOfCounts(rows: CoxData): CoxDesign {
  const design = buildDesign(rows);
  const { sets } = design;
  return { ...design, sets: { ...sets, eventCounts: sets.eventWeights } };
}
