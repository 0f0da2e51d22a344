import { checkExpectedOutcomes, type ExpectedOutcomes } from './check-chart';

export type ObservedMinusExpected = {
  /** Running sums over the cases so far. */
  readonly observed: Float64Array;
  readonly expected: Float64Array;
  readonly observedMinusExpected: Float64Array;
  /** Expected minus observed: rises while results are better than expected. */
  readonly vlad: Float64Array;
  /** Of observed minus expected, were every case to have its expected probability. */
  readonly standardDeviation: Float64Array;
};

/**
 * Events so far beside the events that the cases' own risks lead to expect (variable life-adjusted display).
 *
 * Estimand: the number of events above or below expectation among the cases so far.
 * Formula: sums of y, p, y - p and p - y; standard deviation root(sum of p(1 - p)) (Lovegrove et al., Lancet 1997;350:1128).
 * Convention: the display has no signal rule; use the risk-adjusted CUSUM for that.
 * Shapes: one row per case, in the order of entry; an empty series gives empty sums. Units: events.
 * @throws StatisticsError unequalLengths, notFinite, unknownCode, outOfRange (a probability).
 */
export function deriveObservedMinusExpected(outcomes: ExpectedOutcomes): ObservedMinusExpected {
  checkExpectedOutcomes(outcomes);
  const { event, probability } = outcomes;
  const n = event.length;
  const observed = new Float64Array(n);
  const expected = new Float64Array(n);
  const observedMinusExpected = new Float64Array(n);
  const vlad = new Float64Array(n);
  const standardDeviation = new Float64Array(n);
  let [seen, due, variance] = [0, 0, 0];
  for (let i = 0; i < n; i += 1) {
    seen += event[i];
    due += probability[i];
    variance += probability[i] * (1 - probability[i]);
    observed[i] = seen;
    expected[i] = due;
    observedMinusExpected[i] = seen - due;
    vlad[i] = due - seen;
    standardDeviation[i] = Math.sqrt(variance);
  }
  return { observed, expected, observedMinusExpected, vlad, standardDeviation };
}
