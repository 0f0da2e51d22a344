import { type NotEstimable, notEstimable } from '../absence';
import { bisect } from '../bisection';
import { normalUpperQuantile } from '../special/normal';
import { checkFraction, checkOpenFraction } from './check-planning';
import { estimateProportionsPower } from './proportions-power';

export type ProportionsFormula = 'pooled' | 'pooledCorrected' | 'unpooled' | 'arcsine' | 'arcsineBothTails';

export type ProportionsSampleSize = {
  readonly kind: 'estimated';
  /** Cases in each arm, as the formula gives it; `wholePerArm` is the next whole number. */
  readonly perArm: number;
  readonly wholePerArm: number;
  readonly formula: ProportionsFormula;
};

/**
 * The number of cases a comparison of two proportions needs, equal arms.
 *
 * Estimand: cases in each arm at which the two-sided test reaches the power if the proportions are as given.
 * Formula, z_a and z_b the normal quantiles of half the significance level and of the power, d = |p1 - p2|, m their mean:
 * 'pooled' (default) (z_a root(2 m (1 - m)) + z_b root(p1 q1 + p2 q2))^2/d^2 (Fleiss, Statistical Methods for Rates and
 * Proportions, 1981); 'pooledCorrected' that n times (1 + root(1 + 4/(n d)))^2/4, for a test with continuity correction
 * (Fleiss, Tytun & Ury, Biometrics 1980;36:343); 'unpooled' (z_a + z_b)^2 (p1 q1 + p2 q2)/d^2; 'arcsine'
 * 2 ((z_a + z_b)/h)^2, h the difference of 2 asin(root p) (Cohen 1988); 'arcsineBothTails' the n at which that power,
 * the far tail counted too, is reached.
 * Not estimable: equal proportions; 'arcsineBothTails' with a power of at most the significance level, which any n has.
 * @throws StatisticsError outOfRange.
 */
export function estimateProportionsSampleSize(
  design: {
    readonly first: number;
    readonly second: number;
    readonly power: number;
    /** Two-sided; 0.05 unless stated. */
    readonly significanceLevel?: number;
  },
  options: { readonly formula?: ProportionsFormula } = {},
): ProportionsSampleSize | NotEstimable {
  const { formula = 'pooled' } = options;
  const { first, second, power, significanceLevel = 0.05 } = design;
  checkFraction('first', first);
  checkFraction('second', second);
  checkOpenFraction('power', power);
  checkOpenFraction('significanceLevel', significanceLevel);
  if (first === second) return notEstimable('noEffect');
  if (formula === 'arcsineBothTails' && power <= significanceLevel) return notEstimable('powerWithoutCases');
  const perArm = FORMULAS[formula]({
    first,
    second,
    power,
    significanceLevel,
    level: normalUpperQuantile(significanceLevel / 2),
    reach: normalUpperQuantile(1 - power),
  });
  return { kind: 'estimated', perArm, wholePerArm: Math.ceil(perArm), formula };
}

type Terms = {
  readonly first: number;
  readonly second: number;
  readonly power: number;
  readonly significanceLevel: number;
  readonly level: number;
  readonly reach: number;
};

const FORMULAS: Readonly<Record<ProportionsFormula, (terms: Terms) => number>> = {
  pooled: ({ first, second, level, reach }) => {
    const mean = (first + second) / 2;
    const underNone = level * Math.sqrt(2 * mean * (1 - mean));
    return ((underNone + reach * Math.sqrt(spread(first, second))) / (first - second)) ** 2;
  },
  pooledCorrected: (terms) => {
    const n = FORMULAS.pooled(terms);
    return (n * (1 + Math.sqrt(1 + 4 / (n * Math.abs(terms.first - terms.second)))) ** 2) / 4;
  },
  unpooled: ({ first, second, level, reach }) =>
    ((level + reach) ** 2 * spread(first, second)) / (first - second) ** 2,
  arcsine: ({ first, second, level, reach }) => 2 * ((level + reach) / angle(first, second)) ** 2,
  arcsineBothTails: (terms) => {
    const { first, second, power, significanceLevel } = terms;
    const powerAt = (perArm: number): number =>
      estimateProportionsPower({ first, second, perArm, significanceLevel }, { formula: 'arcsineBothTails' });
    let enough = 1;
    while (powerAt(enough) < power) enough *= 2;
    return bisect(0, enough, (perArm) => powerAt(perArm) < power).middle;
  },
};

function spread(first: number, second: number): number {
  return first * (1 - first) + second * (1 - second);
}

function angle(first: number, second: number): number {
  return 2 * (Math.asin(Math.sqrt(first)) - Math.asin(Math.sqrt(second)));
}
