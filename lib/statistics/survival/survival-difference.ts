import { type NotEstimable, notEstimable } from '../absence';
import { type Column, checkConfidenceLevel, checkTimes } from '../check-input';
import { chiSquareUpperTail } from '../special/chi-square';
import { normalUpperQuantile } from '../special/normal';
import { countBefore, countThrough } from './equal-times';
import type { ReadableCurve } from './kaplan-meier';
import { hasTooFewClusters } from './survival-at';

export type SurvivalDifference = {
  readonly kind: 'estimated';
  readonly timeDays: number;
  readonly first: number;
  readonly second: number;
  /** first - second. */
  readonly difference: number;
  /** True when one of the curves ended earlier: its last value is carried. */
  readonly beyondFollowUp: boolean;
  readonly plain: PlainTest | NotEstimable;
  readonly logLog: LogLogTest | NotEstimable;
};

type PlainTest = {
  readonly kind: 'tested';
  readonly standardError: number;
  readonly lower: number;
  readonly upper: number;
  readonly z: number;
  readonly pValue: number;
};

type LogLogTest = {
  readonly kind: 'tested';
  /** Above 0 when the first curve is the lower one. */
  readonly z: number;
  readonly chiSquare: number;
  readonly pValue: number;
};

/**
 * The difference of two independent Kaplan-Meier curves at times chosen beforehand.
 *
 * Estimand: S1(t) - S2(t), and the hypothesis that it is zero.
 * Formula: plain, (S1 - S2)/root(V1 + V2) with Greenwood's variances, limits symmetric and not cut; complementary
 * log-log, (log(-log S1) - log(-log S2))/root(g1/log^2 S1 + g2/log^2 S2), g = V/S^2, which keeps its level in small
 * groups (Klein, Logan, Harhoff & Andersen, Stat Med 2007;26:4505). Tests are two-sided.
 * Conventions: as survivalAt. A curve without an event yet adds no variance to the plain test, whose interval is
 * then too narrow.
 * Not estimable: a curve without cases; the plain test with a curve at zero or without an event in either; the
 * log-log test unless both curves lie strictly between 0 and 1. Units: days.
 * @throws StatisticsError notFinite, negative (`times`), outOfRange (`confidenceLevel`).
 */
export function testSurvivalDifference(
  first: ReadableCurve,
  second: ReadableCurve,
  times: Column,
  options: { readonly confidenceLevel?: number } = {},
): (SurvivalDifference | NotEstimable)[] {
  const { confidenceLevel = 0.95 } = options;
  checkConfidenceLevel(confidenceLevel);
  checkTimes('times', times);
  const z = normalUpperQuantile((1 - confidenceLevel) / 2);
  return Array.from(times, (timeDays) => {
    if (first.n === 0 || second.n === 0) return notEstimable('noRows');
    return compareAt(first, second, timeDays, z, 0);
  });
}

/** The comparison at one time of two curves with cases, whose values have this covariance. */
export function compareAt(
  first: ReadableCurve,
  second: ReadableCurve,
  timeDays: number,
  z: number,
  covariance: number,
): SurvivalDifference {
  const a = valueAt(first, timeDays);
  const b = valueAt(second, timeDays);
  const absent = [first, second].some(hasTooFewClusters) ? notEstimable('tooFewClusters') : undefined;
  return {
    kind: 'estimated',
    timeDays,
    first: a.survival,
    second: b.survival,
    difference: a.survival - b.survival,
    beyondFollowUp: a.beyondFollowUp || b.beyondFollowUp,
    plain: absent ?? testPlain(a, b, z, covariance),
    logLog: absent ?? testLogLog(a, b, covariance),
  };
}

type Value = { readonly survival: number; readonly standardError: number; readonly beyondFollowUp: boolean };

function valueAt(curve: ReadableCurve, timeDays: number): Value {
  const i = countThrough(curve.timeDays, timeDays) - 1;
  const beyondFollowUp = countBefore(curve.timeDays, timeDays) === curve.timeDays.length;
  if (i < 0) return { survival: 1, standardError: 0, beyondFollowUp };
  const standardError = i < curve.intervalTo ? curve.standardError[i] : 0;
  return { survival: curve.survival[i], standardError, beyondFollowUp };
}

function testPlain(a: Value, b: Value, z: number, covariance: number): PlainTest | NotEstimable {
  if (a.survival === 0 || b.survival === 0) return notEstimable('curveAtZero');
  const standardError = errorOfDifference(a.standardError, b.standardError, covariance);
  if (standardError === 0) return notEstimable(covariance === 0 ? 'noEventYet' : 'tooFewClusters');
  const difference = a.survival - b.survival;
  const score = difference / standardError;
  return {
    kind: 'tested',
    standardError,
    lower: difference - z * standardError,
    upper: difference + z * standardError,
    z: score,
    pValue: chiSquareUpperTail(score * score, 1),
  };
}

function testLogLog(a: Value, b: Value, covariance: number): LogLogTest | NotEstimable {
  if ([a, b].some(({ survival }) => survival === 0 || survival === 1)) return notEstimable('curveAtEdge');
  const scale = a.survival * Math.log(a.survival) * b.survival * Math.log(b.survival);
  const error = errorOfDifference(logLogError(a), logLogError(b), covariance / scale);
  if (error === 0) return notEstimable('tooFewClusters');
  const z = (logLog(a) - logLog(b)) / error;
  return { kind: 'tested', z, chiSquare: z * z, pValue: chiSquareUpperTail(z * z, 1) };
}

/** What covariance leaves below this share of the variances is rounding. */
const NO_SPREAD = 1e-12;

function errorOfDifference(a: number, b: number, covariance: number): number {
  if (covariance === 0) return Math.hypot(a, b);
  const apart = a * a + b * b;
  const variance = apart - 2 * covariance;
  return variance > NO_SPREAD * apart ? Math.sqrt(variance) : 0;
}

function logLog({ survival }: Value): number {
  return Math.log(-Math.log(survival));
}

function logLogError({ survival, standardError }: Value): number {
  return standardError / survival / Math.log(survival);
}
