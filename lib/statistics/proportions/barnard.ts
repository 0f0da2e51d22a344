import { type NotEstimable, notEstimable } from '../absence';
import { type ArmCount, checkArms } from './arms';
import { largestProbability, regionWhere } from './nuisance';

export type BarnardTest = {
  readonly kind: 'tested';
  /** The standardised difference, first minus second; infinite when all cases of one arm and none of the other have it. */
  readonly statistic: number;
  readonly pValue: number;
};

/** Statistics that differ by rounding only are one; exact differences between tables are far larger. */
const ROUNDING = 1 - 1e-10;

/**
 * Barnard's unconditional exact test of equal proportions in two arms, two-sided.
 *
 * Estimand: the hypothesis p1 = p2 = pi, pi unknown, arm sizes fixed.
 * Formula: all tables whose |T| reaches that of the table seen; the p value is the largest probability of that set over pi
 * in 0 to 1 (Barnard, Biometrika 1947;34:123; ordering by the score or Wald statistic: Suissa & Shuster, JRSS A
 * 1985;148:317). T = (p1 - p2)/root(variance), variance 'pooled' p(1 - p)(1/n1 + 1/n2) (default) or 'unpooled'
 * p1 q1/n1 + p2 q2/n2; T = 0 when p1 = p2. Statistics equal up to rounding count as tied.
 * Cost grows with n1 n2. Not estimable: an arm without cases.
 * @throws StatisticsError notFinite, negative, notInteger, outOfRange.
 */
export function testBarnard(
  first: ArmCount,
  second: ArmCount,
  options: { readonly variance?: 'pooled' | 'unpooled' } = {},
): BarnardTest | NotEstimable {
  const { variance = 'pooled' } = options;
  checkArms(first, second);
  if (first.n === 0 || second.n === 0) return notEstimable('emptyArm');
  const standardise = variance === 'pooled' ? pooledStatistic : unpooledStatistic;
  const at = (x: number, y: number): number =>
    standardise({ events: x, n: first.n }, { events: y, n: second.n });
  const statistic = at(first.events, second.events);
  const reached = Math.abs(statistic) * ROUNDING;
  if (statistic === 0) return { kind: 'tested', statistic, pValue: 1 };
  const region = regionWhere(first.n, second.n, (x, y) => Math.abs(at(x, y)) >= reached);
  return { kind: 'tested', statistic, pValue: largestProbability(region) };
}

/** x1 n2 - x2 n1: the difference of the proportions times n1 n2, exact. */
function crossDifference(first: ArmCount, second: ArmCount): number {
  return first.events * second.n - second.events * first.n;
}

function pooledStatistic(first: ArmCount, second: ArmCount): number {
  const difference = crossDifference(first, second);
  if (difference === 0) return 0;
  const n = first.n + second.n;
  const events = first.events + second.events;
  return difference / Math.sqrt((first.n * second.n * events * (n - events)) / n);
}

function unpooledStatistic(first: ArmCount, second: ArmCount): number {
  const difference = crossDifference(first, second);
  if (difference === 0) return 0;
  const own = (first.events * (first.n - first.events) * second.n * second.n) / first.n;
  const other = (second.events * (second.n - second.events) * first.n * first.n) / second.n;
  return difference / Math.sqrt(own + other);
}
