/** Whom the weighted groups stand for: everyone, the treated, the others, or those who could be either (two ways). */
export type WeightingEstimand = 'ate' | 'att' | 'atc' | 'overlap' | 'matching';

/** A balancing weight at propensity e, and how fast it changes with the log odds of e. */
export function weightWithSlope(
  estimand: WeightingEstimand,
  isTreated: boolean,
  e: number,
): { readonly weight: number; readonly slope: number } {
  const odds = e / (1 - e);
  switch (estimand) {
    case 'ate':
      return isTreated ? { weight: 1 / e, slope: -1 / odds } : { weight: 1 / (1 - e), slope: odds };
    case 'att':
      return isTreated ? { weight: 1, slope: 0 } : { weight: odds, slope: odds };
    case 'atc':
      return isTreated ? { weight: 1 / odds, slope: -1 / odds } : { weight: 1, slope: 0 };
    case 'overlap':
      return isTreated ? { weight: 1 - e, slope: -e * (1 - e) } : { weight: e, slope: e * (1 - e) };
    case 'matching':
      // Each group is weighted where it is the likelier one, as in `atc` for the treated and `att` for the others.
      return isTreated === e > 0.5
        ? weightWithSlope(isTreated ? 'atc' : 'att', isTreated, e)
        : { weight: 1, slope: 0 };
  }
}
