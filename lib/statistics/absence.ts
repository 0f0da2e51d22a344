/** Why a quantity cannot be estimated. */
export type NotEstimableCode =
  | 'noRows'
  | 'noEventYet'
  | 'curveAtZero'
  | 'incidenceAtOne'
  | 'noEvents'
  | 'fewerThanTwoGroups'
  | 'noOverlap';

/** A legitimate absence: a code for programs, a reason in plain words for people. Never NaN, never null. */
export type NotEstimable = {
  readonly kind: 'notEstimable';
  readonly code: NotEstimableCode;
  readonly reason: string;
};

const REASONS: Readonly<Record<NotEstimableCode, string>> = {
  noRows: 'There are no cases to estimate from.',
  noEventYet: 'No event has happened by this time, so the interval has no width to compute.',
  curveAtZero: 'The curve has reached zero, where this interval is not defined.',
  incidenceAtOne: 'The incidence has reached one, where this interval is not defined.',
  noEvents: 'No event was observed in any group.',
  fewerThanTwoGroups: 'Only one group has cases, so there is nothing to compare.',
  noOverlap: 'The groups were never at risk together at the time of an event.',
};

export function notEstimable(code: NotEstimableCode): NotEstimable {
  return { kind: 'notEstimable', code, reason: REASONS[code] };
}
