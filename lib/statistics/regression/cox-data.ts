import { type Column, checkCodes, checkEqualLengths, checkFinite, checkTimes } from '../check-input';
import { checkWeights } from '../check-weights';
import { StatisticsError } from '../errors';
import { checkEntries } from '../survival/event-table';

/** One row per case, or per interval of a case with delayed entry or covariates that change. */
export type CoxData = {
  readonly timeDays: Column;
  /** 1 for an event at `timeDays`, 0 for censored. */
  readonly event: Column;
  /** One column per covariate; their order is the order of the coefficients. */
  readonly covariates: readonly Column[];
  /** At risk from after this time; everybody from the start when left out. */
  readonly entryDays?: Column;
  /** Case weights of zero or more. A row of weight 0 takes no part. */
  readonly weights?: Column;
  /** Stratum codes, whole numbers of zero or more: each stratum has its own baseline hazard. */
  readonly strata?: Column;
  /** Added to the linear predictor as it is. */
  readonly offset?: Column;
  /** Whole numbers of zero or more; rows of one cluster (one patient) are not independent. */
  readonly cluster?: Column;
};

const ANY_CODE = 2 ** 31;

/** Throws at the first column or value that no Cox model can use. */
export function checkCoxData(data: CoxData): void {
  const { timeDays, event, covariates, entryDays, weights, strata, offset, cluster } = data;
  if (covariates.length === 0) {
    const message = 'covariates holds no column; give at least one, or use a Kaplan-Meier curve.';
    throw new StatisticsError('outOfRange', 'covariates', undefined, message);
  }
  const named = Object.fromEntries(covariates.map((column, j) => [covariateName(j), column]));
  checkEqualLengths({ timeDays, event, entryDays, weights, strata, offset, cluster, ...named });
  checkTimes('timeDays', timeDays);
  checkCodes('event', event, 2);
  covariates.forEach((column, j) => {
    if (!isFiniteArray(column)) checkFinite(covariateName(j), column);
  });
  if (entryDays) checkEntries(entryDays, timeDays);
  if (weights) checkWeights(weights);
  if (strata) checkCodes('strata', strata, ANY_CODE);
  if (offset) checkFinite('offset', offset);
  if (cluster) checkCodes('cluster', cluster, ANY_CODE);
}

/** The short way for typed arrays: their sum is finite (overflow apart, which the long way then clears). */
function isFiniteArray(column: Column): boolean {
  if (!ArrayBuffer.isView(column)) return false;
  let sum = 0;
  for (let i = 0; i < column.length; i += 1) sum += column[i];
  return Number.isFinite(sum);
}

function covariateName(j: number): string {
  return `covariates[${j}]`;
}
