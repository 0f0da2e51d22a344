import { normalLowerTail, normalUpperQuantile, normalUpperTail } from '../special/normal';
import { checkAboveZero, checkFraction, checkOpenFraction } from './check-planning';

/**
 * The power of a comparison of two proportions with equal arms.
 *
 * Estimand: the probability that the two-sided test rejects, with 'pooled' (default) and 'arcsine' in the direction of the
 * true difference, with 'arcsineBothTails' in either.
 * Formula, z_a the normal quantile of half the significance level, n cases in each arm, m the mean proportion: 'pooled'
 * Phi((root n |p1 - p2| - z_a root(2 m (1 - m)))/root(p1 q1 + p2 q2)) (Fleiss, Statistical Methods for Rates and
 * Proportions, 1981); 'arcsine' Phi(|h| root(n/2) - z_a), h the difference of 2 asin(root p) (Cohen 1988);
 * 'arcsineBothTails' adds Phi(-|h| root(n/2) - z_a). With 'pooled' and proportions 0 and 1 the power is 1 or 0.
 * Units: perArm any number above 0. @throws StatisticsError outOfRange.
 */
export function estimateProportionsPower(
  design: {
    readonly first: number;
    readonly second: number;
    readonly perArm: number;
    /** Two-sided; 0.05 unless stated. */
    readonly significanceLevel?: number;
  },
  options: { readonly formula?: 'pooled' | 'arcsine' | 'arcsineBothTails' } = {},
): number {
  const { formula = 'pooled' } = options;
  const { first, second, perArm, significanceLevel = 0.05 } = design;
  checkFraction('first', first);
  checkFraction('second', second);
  checkAboveZero('perArm', perArm);
  checkOpenFraction('significanceLevel', significanceLevel);
  const level = normalUpperQuantile(significanceLevel / 2);
  if (formula === 'pooled') {
    const mean = (first + second) / 2;
    const excess = Math.sqrt(perArm) * Math.abs(first - second) - level * Math.sqrt(2 * mean * (1 - mean));
    const spread = Math.sqrt(first * (1 - first) + second * (1 - second));
    // Both proportions at an end: the outcome is certain, and so is the verdict.
    if (spread === 0) return excess > 0 ? 1 : 0;
    return normalLowerTail(excess / spread);
  }
  const h = 2 * Math.abs(Math.asin(Math.sqrt(first)) - Math.asin(Math.sqrt(second)));
  const shift = h * Math.sqrt(perArm / 2);
  const near = normalLowerTail(shift - level);
  return formula === 'arcsine' ? near : near + normalUpperTail(shift + level);
}
