import type { AfType } from './vocabulary';

export type DerivedAfType =
  | { readonly kind: 'derived'; readonly afType: AfType; readonly reason: string }
  | { readonly kind: 'notDerivable'; readonly reason: string };

const derived = (afType: AfType, reason: string): DerivedAfType => ({ kind: 'derived', afType, reason });

/**
 * AF type by the longest continuous episode and how it ended (2017 consensus, Table 1): up to 7 days paroxysmal, whether it
 * ended by itself or by treatment; more than 7 days and less than 3 months (taken as 91 days) early persistent; up to 12
 * months (365 days) persistent; longer long-standing. An episode of up to 7 days that was still running when the procedure
 * began says nothing: it might have gone on.
 */
export function deriveAfType(longestEpisodeDays: number | null, ending: string | null): DerivedAfType {
  if (longestEpisodeDays === null) {
    return { kind: 'notDerivable', reason: 'The longest episode is not recorded.' };
  }
  const days = `${longestEpisodeDays} ${longestEpisodeDays === 1 ? 'day' : 'days'}`;
  if (longestEpisodeDays <= 7) {
    return ending === 'ablation'
      ? {
          kind: 'notDerivable',
          reason: `The episode had lasted ${days} and was still running when the procedure began.`,
        }
      : derived('paroxysmal', `The longest episode ended within 7 days (${days}).`);
  }
  if (longestEpisodeDays <= 91) {
    return derived('early-persistent', `More than 7 days and less than 3 months (${days}).`);
  }
  return longestEpisodeDays <= 365
    ? derived('persistent', `More than 3 and up to 12 months (${days}).`)
    : derived('long-standing-persistent', `More than 12 months (${days}).`);
}
