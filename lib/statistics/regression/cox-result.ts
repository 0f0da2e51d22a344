import type { NotEstimable } from '../absence';
import { chiSquareUpperTail } from '../special/chi-square';
import type { CoxTies } from './cox-cells';

export type CoxVariance = 'model' | 'robust';

export type CoxTest = {
  readonly kind: 'tested';
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
  readonly pValue: number;
};

export type CoxInterval = {
  readonly kind: 'estimated';
  readonly standardError: number;
  readonly z: number;
  readonly pValue: number;
  /** Of the hazard ratio. */
  readonly lower: number;
  readonly upper: number;
};

/** Per unit of the covariate. A ratio beyond the largest or smallest number is Infinity or 0. */
export type CoxCoefficient = {
  readonly kind: 'estimated';
  readonly coefficient: number;
  readonly hazardRatio: number;
  readonly interval: CoxInterval | NotEstimable;
};

/** The likelihood rises for ever as the coefficient grows in this direction. */
export type InfiniteCoefficient = { readonly kind: 'infinite'; readonly sign: 1 | -1 };

type CoxBasis = {
  /** Rows of a weight above 0, and how many of them had the event. */
  readonly n: number;
  readonly eventTotal: number;
  readonly ties: CoxTies;
  readonly variance: CoxVariance;
  readonly nullLogLikelihood: number;
  /** At the maximum; of a monotone likelihood, its limit. */
  readonly logLikelihood: number;
  /** Both from the model, whatever the variance. */
  readonly likelihoodRatio: CoxTest;
  readonly score: CoxTest;
};

export type CoxFit = CoxBasis & {
  readonly kind: 'fitted';
  /** One per covariate. */
  readonly coefficients: readonly (CoxCoefficient | NotEstimable)[];
  /** The covariates with a coefficient, ascending; the covariances are by rows of these. */
  readonly estimated: readonly number[];
  readonly covariance: Float64Array | NotEstimable;
  readonly modelCovariance: Float64Array;
  readonly wald: CoxTest | NotEstimable;
  /** Only with robust variance: the score test with the variance of the clusters. */
  readonly robustScore?: CoxTest | NotEstimable;
};

/** A fit without a maximum: the tests stand, infinite coefficients have no estimate. */
export type CoxMonotone = CoxBasis & {
  readonly kind: 'monotone';
  readonly reason: string;
  readonly coefficients: readonly (CoxCoefficient | InfiniteCoefficient | NotEstimable)[];
};

export function testedBy(chiSquare: number, degreesOfFreedom: number): CoxTest {
  // Twice a difference of log likelihoods may round to just below 0.
  const statistic = Math.max(0, chiSquare);
  return {
    kind: 'tested',
    chiSquare: statistic,
    degreesOfFreedom,
    pValue: chiSquareUpperTail(statistic, degreesOfFreedom),
  };
}

export function describeCoefficient(
  coefficient: number,
  variance: number | NotEstimable,
  quantile: number,
): CoxCoefficient {
  const hazardRatio = Math.exp(coefficient);
  if (typeof variance !== 'number')
    return { kind: 'estimated', coefficient, hazardRatio, interval: variance };
  const standardError = Math.sqrt(variance);
  const z = coefficient / standardError;
  const interval: CoxInterval = {
    kind: 'estimated',
    standardError,
    z,
    pValue: chiSquareUpperTail(z * z, 1),
    lower: Math.exp(coefficient - quantile * standardError),
    upper: Math.exp(coefficient + quantile * standardError),
  };
  return { kind: 'estimated', coefficient, hazardRatio, interval };
}
