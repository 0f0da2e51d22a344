import { type NotEstimable, notEstimable } from '../absence';
import { checkEventsAmong } from '../check-counts';
import { type Column, checkEqualLengths } from '../check-input';
import { binomialLowerTail, binomialProbability, binomialUpperTail } from '../special/binomial';
import { checkOpenFraction } from './check-chart';
import { checkUnitSizes } from './funnel-limits';

/** One row per unit: its events among its cases. */
export type FunnelUnits = { readonly events: Column; readonly n: Column };

export type FunnelPoints = {
  readonly rate: Float64Array;
  /** P(X <= events), P(X >= events), and P(X > events) with half of P(X = events), at the target rate. */
  readonly lowerTail: Float64Array;
  readonly upperTail: Float64Array;
  readonly midUpperTail: Float64Array;
  /** The distance from the target in standard errors of the target. */
  readonly z: Float64Array;
};

/**
 * Where each unit stands in a funnel.
 *
 * Estimand: how unusual a unit's events would be at the target rate.
 * Formula: binomial tails, exact; z = (events/n - target)/root(target(1 - target)/n) (Spiegelhalter, Stat Med
 * 2005;24:1185). Tails are one-sided and not adjusted for the number of units.
 * Shapes: one row per unit.
 * @throws StatisticsError unequalLengths, notFinite, negative, notInteger, outOfRange (events > n, no cases, target).
 */
export function deriveFunnelPoints(units: FunnelUnits, target: number): FunnelPoints {
  const { events, n } = units;
  checkUnits(units, target);
  const eachUnit = (value: (x: number, size: number) => number): Float64Array =>
    Float64Array.from(events, (x, i) => value(x, n[i]));
  return {
    rate: eachUnit((x, size) => x / size),
    lowerTail: eachUnit((x, size) => binomialLowerTail(x, size, target)),
    upperTail: eachUnit((x, size) => (x === 0 ? 1 : binomialUpperTail(x - 1, size, target))),
    midUpperTail: eachUnit(
      (x, size) => binomialUpperTail(x, size, target) + binomialProbability(x, size, target) / 2,
    ),
    z: eachUnit((x, size) => zOf(x, size, target)),
  };
}

export type Overdispersion = {
  readonly kind: 'estimated';
  readonly units: number;
  /** The mean of z squared: about 1 when the units differ by chance alone. */
  readonly phi: number;
  /** Whether there are units enough (10) to widen limits by it. */
  readonly usable: boolean;
};

const FEWEST_UNITS = 10;

/**
 * How much more the units of a funnel differ than chance lets expect.
 *
 * Estimand: the variance of the units' rates over the binomial one.
 * Formula: phi = mean of z^2 over all units, not winsorised (Spiegelhalter, Stat Med 2005;24:1185); z as in
 * deriveFunnelPoints. With fewer than 10 units it says too little to widen limits by: `usable` is false (a rule of ours).
 * Not estimable: no units.
 * @throws StatisticsError as deriveFunnelPoints.
 */
export function estimateOverdispersion(units: FunnelUnits, target: number): Overdispersion | NotEstimable {
  const { events, n } = units;
  checkUnits(units, target);
  const count = events.length;
  if (count === 0) return notEstimable('noRows');
  let sum = 0;
  for (let i = 0; i < count; i += 1) sum += zOf(events[i], n[i], target) ** 2;
  return { kind: 'estimated', units: count, phi: sum / count, usable: count >= FEWEST_UNITS };
}

const zOf = (events: number, n: number, target: number): number =>
  (events / n - target) / Math.sqrt((target * (1 - target)) / n);

function checkUnits({ events, n }: FunnelUnits, target: number): void {
  checkEqualLengths({ events, n });
  checkUnitSizes(n);
  for (let i = 0; i < n.length; i += 1) checkEventsAmong('events', events[i], 'n', n[i], i);
  checkOpenFraction('target', target);
}
