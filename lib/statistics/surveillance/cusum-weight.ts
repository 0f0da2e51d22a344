import { StatisticsError } from '../errors';
import { checkAboveZero } from './check-chart';

/** The hypotheses of a risk-adjusted CUSUM as odds ratios against the expected probability. */
export type CusumHypotheses = {
  /** The odds ratio to detect: above 1 for a rise, below 1 for a fall. */
  readonly oddsRatio: number;
  /** The odds ratio in control; 1 when left out. */
  readonly baselineOddsRatio?: number;
};

/** The log-likelihood ratio of one case's outcome (Steiner et al., Biostatistics 2000;1:441, section 2). */
export function cusumWeight(event: number, probability: number, hypotheses: CusumHypotheses): number {
  const { oddsRatio, baselineOddsRatio = 1 } = hypotheses;
  const inControl = 1 - probability + baselineOddsRatio * probability;
  const shifted = 1 - probability + oddsRatio * probability;
  return event === 1
    ? Math.log((inControl * oddsRatio) / (shifted * baselineOddsRatio))
    : Math.log(inControl / shifted);
}

/** @throws StatisticsError notFinite, outOfRange. */
export function checkHypotheses({ oddsRatio, baselineOddsRatio = 1 }: CusumHypotheses): void {
  checkAboveZero('oddsRatio', oddsRatio);
  checkAboveZero('baselineOddsRatio', baselineOddsRatio);
  if (oddsRatio === baselineOddsRatio) {
    const message = `oddsRatio is ${oddsRatio}, the same as in control; give the change to detect.`;
    throw new StatisticsError('outOfRange', 'oddsRatio', undefined, message);
  }
}
