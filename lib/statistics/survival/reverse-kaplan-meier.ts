import { estimateKaplanMeier, type KaplanMeierCurve, type SurvivalData } from './kaplan-meier';
import { type KaplanMeierOptions, productLimit } from './product-limit';

export type ReverseKaplanMeierOptions = KaplanMeierOptions & {
  /**
   * Whether an event at the time of a censoring is still at risk of being censored. 'at-risk' (unless stated):
   * events and censorings simply change roles, the usual way to describe follow-up. 'gone': events come first, as
   * everywhere else, which is right for weights by the probability of not being censored.
   */
  readonly tiedEvents?: 'at-risk' | 'gone';
};

/**
 * How long cases would have been followed had nobody had the event: the Kaplan-Meier curve of being censored.
 *
 * Estimand: P(follow-up > t), follow-up being cut short by events; its median is the median follow-up that reports
 * ask for.
 * Formula: the product limit with the roles of event and censoring exchanged (Schemper & Smith, Control Clin Trials
 * 1996;17:343); standard error and limits as estimateKaplanMeier. In the result `events` are censorings, `censored`
 * events and, with tiedEvents 'gone', `atRisk` those still at risk after the events of that time.
 * Read it with survivalQuantile and survivalAt. Nobody censored: a curve that stays at 1.
 * Risk set, delayed entry, shapes, units, errors: as estimateKaplanMeier.
 * @throws StatisticsError unequalLengths, notFinite, negative, unknownCode, entryNotBeforeExit, outOfRange.
 */
export function estimateReverseKaplanMeier(
  data: SurvivalData,
  options: ReverseKaplanMeierOptions = {},
): KaplanMeierCurve {
  const { tiedEvents = 'at-risk', ...curveOptions } = options;
  const forward = estimateKaplanMeier(data, curveOptions);
  const atRisk = forward.atRisk.map((n, i) => (tiedEvents === 'gone' ? n - forward.events[i] : n));
  const { n, timeDays, events, censored, entryDays, entered } = forward;
  const exchanged = { n, timeDays, atRisk, events: censored, censored: events };
  return { ...productLimit(exchanged, curveOptions), entryDays, entered, variance: 'greenwood' };
}
