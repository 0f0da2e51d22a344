import { type NotEstimable, notEstimable } from '../absence';
import { type Column, checkCodes, checkEqualLengths } from '../check-input';
import { estimateConcordance } from '../survival/concordance';
import type { EstimatedInterval } from '../survival/survival-at';

export type CStatistic = {
  readonly kind: 'estimated';
  readonly cStatistic: number;
  readonly interval: EstimatedInterval | NotEstimable;
};

/**
 * How well a marker (such as a fitted probability) tells rows with an outcome from rows without it.
 *
 * Estimand: the probability that of a row with the outcome and one without, the first has the larger marker; equal
 * markers count one half. It is the area under the ROC curve (Hanley & McNeil, Radiology 1982;143:29).
 * Formula: estimateConcordance with the outcome at an earlier time than all others, so that only pairs of one with and
 * one without can be compared; its standard error (jackknife) and limits, and weights with it.
 * Not estimable: one outcome only; the interval when all pairs are ordered alike.
 * @throws StatisticsError unequalLengths, notFinite, negative (weights), unknownCode (outcome), outOfRange
 * (`confidenceLevel`).
 */
export function estimateCStatistic(
  data: { readonly outcome: Column; readonly marker: Column; readonly weights?: Column },
  options: { readonly confidenceLevel?: number } = {},
): CStatistic | NotEstimable {
  const { outcome, marker, weights } = data;
  checkEqualLengths({ outcome, marker, weights });
  checkCodes('outcome', outcome, 2);
  const columns = { timeDays: Float64Array.from(outcome, (code) => 1 - code), event: outcome, marker };
  const found = estimateConcordance(weights ? { ...columns, weights } : columns, options);
  if (found.kind === 'notEstimable') return notEstimable('oneOutcome');
  return { kind: 'estimated', cStatistic: found.concordance, interval: found.interval };
}
