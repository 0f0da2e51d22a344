import { type NotEstimable, notEstimable } from '../absence';
import { checkEventsAmong } from '../check-counts';
import { type Column, checkEqualLengths } from '../check-input';
import { StatisticsError } from '../errors';
import { chiSquareUpperTail } from '../special/chi-square';
import { normalUpperTail } from '../special/normal';
import { testPearsonChiSquare } from './pearson-chi-square';

export type ProportionTrend = {
  readonly kind: 'tested';
  /** Above 0 when the proportion rises with the score; its square is the trend's chi-square with 1 degree. */
  readonly z: number;
  readonly chiSquare: number;
  readonly pValue: number;
  /** The same with N - 1 for N, that is (N - 1) r^2 of outcome and score. */
  readonly correlationChiSquare: number;
  readonly correlationPValue: number;
  /** All differences between the groups, and what of them the straight line leaves over. */
  readonly overallChiSquare: number;
  readonly overallDegreesOfFreedom: number;
  readonly departure:
    | {
        readonly kind: 'tested';
        readonly chiSquare: number;
        readonly degreesOfFreedom: number;
        readonly pValue: number;
      }
    | NotEstimable;
};

/**
 * The Cochran-Armitage test for a trend of a proportion over scored groups.
 *
 * Estimand: the hypothesis that the probability of the event does not depend on the score, against a linear change.
 * Formula: U = sum s (x - n p), p the pooled proportion; V = p (1 - p)(sum n s^2 - (sum n s)^2/N); chi-square = U^2/V with
 * 1 degree of freedom (Cochran, Biometrics 1954;10:417; Armitage, Biometrics 1955;11:375). Departure: Pearson's
 * chi-square of all groups minus the trend, with 2 degrees less than groups.
 * Shapes: one value per group in each column; groups without cases carry nothing. Scores: any finite numbers.
 * Not estimable: all scores alike; all cases with, or all without the event. The departure: with two groups only.
 * @throws StatisticsError unequalLengths, notFinite, negative, notInteger, outOfRange (fewer than two groups, or more
 * events than cases).
 */
export function testProportionTrend(data: {
  readonly events: Column;
  readonly n: Column;
  readonly scores: Column;
}): ProportionTrend | NotEstimable {
  const { events, n, scores } = data;
  checkTrendData(events, n, scores);
  const used = Array.from(n, (_, i) => i).filter((i) => n[i] > 0);
  const sum = (term: (i: number) => number): number => used.reduce((total, i) => total + term(i), 0);
  const cases = sum((i) => n[i]);
  const p = sum((i) => events[i]) / cases;
  if (new Set(used.map((i) => scores[i])).size < 2) return notEstimable('oneScore');
  const overall = testPearsonChiSquare(used.map((i) => [events[i], n[i] - events[i]]));
  if (overall.kind === 'notEstimable') return overall;
  const meanScore = sum((i) => n[i] * scores[i]) / cases;
  const score = sum((i) => (scores[i] - meanScore) * (events[i] - n[i] * p));
  const variance = p * (1 - p) * sum((i) => n[i] * (scores[i] - meanScore) ** 2);
  const z = score / Math.sqrt(variance);
  const chiSquare = z * z;
  const correlationChiSquare = (chiSquare * (cases - 1)) / cases;
  const left = Math.max(0, overall.chiSquare - chiSquare);
  const degreesOfFreedom = used.length - 2;
  return {
    kind: 'tested',
    z,
    chiSquare,
    pValue: 2 * normalUpperTail(Math.abs(z)),
    correlationChiSquare,
    correlationPValue: chiSquareUpperTail(correlationChiSquare, 1),
    overallChiSquare: overall.chiSquare,
    overallDegreesOfFreedom: overall.degreesOfFreedom,
    departure:
      degreesOfFreedom === 0
        ? notEstimable('twoScores')
        : {
            kind: 'tested',
            chiSquare: left,
            degreesOfFreedom,
            pValue: chiSquareUpperTail(left, degreesOfFreedom),
          },
  };
}

function checkTrendData(events: Column, n: Column, scores: Column): void {
  checkEqualLengths({ events, n, scores });
  if (events.length < 2) {
    const message = `events has ${events.length} groups; a trend needs at least two.`;
    throw new StatisticsError('outOfRange', 'events', undefined, message);
  }
  for (let i = 0; i < events.length; i += 1) {
    checkEventsAmong('events', events[i], 'n', n[i], i);
    if (typeof scores[i] !== 'number' || !Number.isFinite(scores[i])) {
      const message = `scores[${i}] is ${String(scores[i])}; give a finite number for every group.`;
      throw new StatisticsError('notFinite', 'scores', i, message);
    }
  }
}
