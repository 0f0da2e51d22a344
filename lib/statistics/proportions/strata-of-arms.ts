import { checkEventsAmong } from '../check-counts';
import { type Column, checkEqualLengths } from '../check-input';

/** One row per stratum: events and cases of the first and of the second arm. */
export type StratifiedArms = {
  readonly firstEvents: Column;
  readonly firstN: Column;
  readonly secondEvents: Column;
  readonly secondN: Column;
};

/** One stratum: a, b events and non-events of the first arm, c, d of the second, n all of them. */
export type Stratum = {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
  readonly n: number;
};

/**
 * The strata with cases in both arms, in the order given; the others hold no comparison.
 * @throws StatisticsError unequalLengths, notFinite, negative, notInteger, outOfRange (more events than cases).
 */
export function comparableStrata(data: StratifiedArms): Stratum[] {
  const { firstEvents, firstN, secondEvents, secondN } = data;
  checkEqualLengths({ firstEvents, firstN, secondEvents, secondN });
  const strata: Stratum[] = [];
  for (let i = 0; i < firstEvents.length; i += 1) {
    checkEventsAmong('firstEvents', firstEvents[i], 'firstN', firstN[i], i);
    checkEventsAmong('secondEvents', secondEvents[i], 'secondN', secondN[i], i);
    const [a, c] = [firstEvents[i], secondEvents[i]];
    const [b, d] = [firstN[i] - a, secondN[i] - c];
    if (firstN[i] > 0 && secondN[i] > 0) strata.push({ a, b, c, d, n: firstN[i] + secondN[i] });
  }
  return strata;
}

export function sumOver(strata: readonly Stratum[], term: (stratum: Stratum) => number): number {
  return strata.reduce((sum, stratum) => sum + term(stratum), 0);
}
