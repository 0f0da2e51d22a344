import { type NotEstimable, notEstimable } from '../absence';
import { type EventProbability, estimateEventProbability, type FollowUpPlan } from './event-probability';
import {
  estimateLogRankEvents,
  type LogRankDesign,
  type LogRankEvents,
  type LogRankFormula,
} from './log-rank-events';

export type LogRankSampleSize = {
  readonly kind: 'estimated';
  readonly events: LogRankEvents;
  readonly eventProbability: EventProbability;
  /** Cases in both arms together, as the formula gives it; `wholeCases` is the next whole number. */
  readonly cases: number;
  readonly wholeCases: number;
};

/**
 * The number of cases a log-rank comparison of two arms needs.
 *
 * Estimand: cases in both arms together that are expected to yield the events of estimateLogRankEvents.
 * Formula: events/P(event), P from estimateEventProbability; nothing is added for loss to follow-up.
 * Not estimable: hazard ratio 1; no case would have an event. @throws StatisticsError outOfRange.
 */
export function estimateLogRankSampleSize(
  design: LogRankDesign & { readonly power: number },
  plan: FollowUpPlan,
  options: { readonly formula?: LogRankFormula } = {},
): LogRankSampleSize | NotEstimable {
  const events = estimateLogRankEvents(design, options);
  if (events.kind === 'notEstimable') return events;
  const eventProbability = estimateEventProbability(plan, design);
  if (eventProbability.overall === 0) return notEstimable('noEventsExpected');
  const cases = events.events / eventProbability.overall;
  return { kind: 'estimated', events, eventProbability, cases, wholeCases: Math.ceil(cases) };
}
