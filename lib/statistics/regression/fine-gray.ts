import { type NotEstimable, notEstimable } from '../absence';
import {
  type Column,
  checkCodes,
  checkConfidenceLevel,
  checkEqualLengths,
  checkFinite,
  checkTimes,
  countCodes,
} from '../check-input';
import { StatisticsError } from '../errors';
import { normalUpperQuantile } from '../special/normal';
import { fitCox } from './cox';
import {
  type CoxCoefficient,
  type CoxMonotone,
  type CoxTest,
  describeCoefficient,
  type InfiniteCoefficient,
  testedBy,
} from './cox-result';
import { waldStatistic } from './cox-variance';
import { buildFineGrayDesign, type FineGrayDesign, type TiedFailures } from './fine-gray-design';
import { type FineGrayMaximum, maximiseFineGray } from './fine-gray-newton';
import { sumFineGray } from './fine-gray-sums';
import { fineGrayCovariance } from './fine-gray-variance';

export type FineGrayData = {
  readonly timeDays: Column;
  /** 0 censored, 1.. causes. */
  readonly status: Column;
  readonly covariates: readonly Column[];
};

export type FineGrayOptions = {
  /** The cause whose incidence is modelled; 1 unless stated. */
  readonly cause?: number;
  /** Whether failures stay at risk of censoring at their own time, as at-risk (the default) says, or are gone before it. */
  readonly tiedFailures?: TiedFailures;
  readonly confidenceLevel?: number;
};

export type FineGrayFit = {
  readonly kind: 'fitted';
  readonly n: number;
  readonly eventTotal: number;
  readonly cause: number;
  /** One per covariate; hazardRatio is that of the subdistribution hazards. */
  readonly coefficients: readonly (CoxCoefficient | NotEstimable)[];
  /** The covariates with a coefficient, ascending; the covariance is by rows of these. */
  readonly estimated: readonly number[];
  readonly covariance: Float64Array;
  readonly nullLogLikelihood: number;
  readonly logLikelihood: number;
  readonly wald: CoxTest | NotEstimable;
  /** The cumulative subdistribution hazard of a case with the mean covariates `centre` of those estimated. */
  readonly baseline: {
    readonly timeDays: Float64Array;
    readonly cumulativeHazard: Float64Array;
    readonly centre: Float64Array;
  };
};

/** A likelihood without a maximum: the coefficients that grow without end have a sign, nothing else is estimated. */
export type FineGrayMonotone = {
  readonly kind: 'monotone';
  readonly reason: string;
  readonly coefficients: readonly (InfiniteCoefficient | NotEstimable)[];
};

/**
 * Regression of the cumulative incidence of one cause on covariates, the other causes acting too (Fine & Gray).
 *
 * Estimand: log ratios b of subdistribution hazards, 1 - F(t | x) = (1 - F0(t))^exp(b'x), F the incidence of the cause.
 * Formula: Fine & Gray, JASA 1999;94:496. At stake at an event time u: those still there, with weight 1, and those who had another
 * cause at T < u, with G(u-)/G(T-), G the Kaplan-Meier curve of being uncensored over all cases; ties by Breslow; the maximum
 * by Newton's method; variance I^-1 sum (eta + psi)(eta + psi)' I^-1 with the part psi of the estimated G. Limits
 * exp(b -+ z se), Wald's test. The log likelihoods are of weighted risk sets, so that their difference tests nothing.
 * Ties: at one time failures precede censorings; equal times as in estimateKaplanMeier. Delayed entry is not provided for.
 * Not estimable: no rows, no event of the cause, no covariate that varies among those at stake, no convergence; a coefficient
 * whose covariate is a combination of earlier ones. A monotone likelihood is a result of its own kind.
 * Shapes: columns of equal length. Units: days; coefficients per unit of their covariate.
 * @throws StatisticsError unequalLengths, notFinite, negative, unknownCode, outOfRange.
 */
export function fitFineGray(
  data: FineGrayData,
  options: FineGrayOptions = {},
): FineGrayFit | FineGrayMonotone | NotEstimable {
  const { cause = 1, tiedFailures = 'at-risk', confidenceLevel = 0.95 } = options;
  checkConfidenceLevel(confidenceLevel);
  checkFineGrayData(data, cause);
  const { timeDays, status, covariates } = data;
  if (timeDays.length === 0) return notEstimable('noRows');
  const stay = fitWithoutWeights(data, cause);
  if (stay.kind === 'notEstimable') return stay;
  if (stay.kind === 'monotone') return describeMonotone(stay);
  const estimated = stay.estimated;
  const columns = estimated.map((j) => covariates[j]);
  const design = buildFineGrayDesign(timeDays, status, columns, cause, tiedFailures);
  const start = Float64Array.from(estimated, (j, k) => {
    const one = stay.coefficients[j];
    return one.kind === 'estimated' ? one.coefficient * design.scale[k] : 0;
  });
  const maximum = maximiseFineGray(design, start);
  if (!maximum) return notEstimable('noConvergence');
  const quantile = normalUpperQuantile((1 - confidenceLevel) / 2);
  return { ...describeFit(design, maximum, estimated, covariates.length, quantile), cause };
}

function checkFineGrayData({ timeDays, status, covariates }: FineGrayData, cause: number): void {
  const named = Object.fromEntries(covariates.map((column, j) => [`covariates[${j}]`, column]));
  checkEqualLengths({ timeDays, status, ...named });
  checkTimes('timeDays', timeDays);
  checkCodes('status', status, countCodes('status', status, undefined));
  for (const [name, column] of Object.entries(named)) checkFinite(name, column);
  if (Number.isInteger(cause) && cause >= 1) return;
  const message = `cause is ${cause}; causes are numbered 1, 2 and so on.`;
  throw new StatisticsError('unknownCode', 'cause', undefined, message);
}

/**
 * Cox's model with those who had another cause kept at risk to the end, without weights. Its risk sets hold the same cases, so it
 * has a maximum, and the same columns carry information, exactly when that is so here; it is a start, too.
 */
function fitWithoutWeights(
  { timeDays, status, covariates }: FineGrayData,
  cause: number,
): ReturnType<typeof fitCox> {
  let end = 0;
  for (let i = 0; i < timeDays.length; i += 1) end = Math.max(end, timeDays[i]);
  return fitCox(
    {
      timeDays: Float64Array.from(timeDays, (time, i) =>
        status[i] === 0 || status[i] === cause ? time : end,
      ),
      event: Uint8Array.from(status, (code) => (code === cause ? 1 : 0)),
      covariates,
    },
    { ties: 'breslow' },
  );
}

function describeMonotone({ reason, coefficients }: CoxMonotone): FineGrayMonotone {
  return {
    kind: 'monotone',
    reason,
    coefficients: coefficients.map((one) =>
      one.kind === 'estimated' ? notEstimable('monotoneLikelihood') : one,
    ),
  };
}

function describeFit(
  design: FineGrayDesign,
  maximum: FineGrayMaximum,
  estimated: readonly number[],
  columnCount: number,
  quantile: number,
): Omit<FineGrayFit, 'cause'> {
  const { size, scale, events, times, centre } = design;
  const { beta, sums, factor } = maximum;
  const coefficient = beta.map((value, j) => value / scale[j]);
  const covariance = fineGrayCovariance(design, sums, factor);
  const wald = waldStatistic(coefficient, covariance);
  const at = Array.from(events.keys()).filter((j) => events[j] > 0);
  let hazard = 0;
  const cumulativeHazard = Float64Array.from(at, (j) => {
    hazard += sums.hazard[j];
    return hazard;
  });
  return {
    kind: 'fitted',
    n: design.place.length,
    eventTotal: events.reduce((sum, count) => sum + count, 0),
    coefficients: Array.from({ length: columnCount }, (_, column) => {
      const j = estimated.indexOf(column);
      if (j < 0) return notEstimable('collinear');
      return describeCoefficient(coefficient[j], covariance[j * size + j], quantile);
    }),
    estimated,
    covariance,
    nullLogLikelihood: sumFineGray(design, new Float64Array(size)).logLikelihood,
    logLikelihood: sums.logLikelihood,
    wald: wald === undefined ? notEstimable('noConvergence') : testedBy(wald, size),
    baseline: { timeDays: Float64Array.from(at, (j) => times[j]), cumulativeHazard, centre },
  };
}
