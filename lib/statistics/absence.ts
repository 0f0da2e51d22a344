/** Why a quantity cannot be estimated. */
export type NotEstimableCode =
  | 'noRows'
  | 'noEventYet'
  | 'curveAtZero'
  | 'incidenceAtOne'
  | 'noEvents'
  | 'fewerThanTwoGroups'
  | 'noOverlap'
  | 'emptyArm'
  | 'emptyCell'
  | 'oneOutcome'
  | 'oneTable'
  | 'tableTooLarge'
  | 'oneScore'
  | 'twoScores'
  | 'noPersonTime'
  | 'noStrata'
  | 'oneStratum'
  | 'oneCategory'
  | 'categoryNotUsed'
  | 'raterWithoutVariation'
  | 'noEffect'
  | 'noEventsExpected'
  | 'powerWithoutCases'
  | 'noWeight'
  | 'moreThanTwoGroups'
  | 'noEventsInGroup'
  | 'horizonBeyondFollowUp'
  | 'curveAtEdge'
  | 'noTimeLost'
  | 'noCensoring'
  | 'noPotentialTime'
  | 'noComparablePairs'
  | 'perfectOrder'
  | 'nobodyLeft'
  | 'pooledIncidenceAtOne'
  | 'varianceNotPositive'
  | 'noConvergence'
  | 'neverSignals'
  | 'runTooLong'
  | 'runLengthTooShort'
  | 'noVariationAtRisk'
  | 'collinear'
  | 'monotoneLikelihood'
  | 'tooFewClusters'
  | 'noTimeVariation'
  | 'eventAtTimeZero'
  | 'farFromData'
  | 'tooFewCases'
  | 'alarmsWithoutChange'
  | 'separation'
  | 'allWeightsZero'
  | 'noSpread'
  | 'noLimits'
  | 'replicatesAlike'
  | 'replicatesOnOneSide'
  | 'tooFewReplicates'
  | 'replicatesFailed'
  | 'tooFewImputations'
  | 'nothingObserved';

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
  emptyArm: 'One of the two groups has no cases.',
  emptyCell: 'A cell of the table is zero, where this interval is not defined.',
  oneOutcome: 'Every case had the same outcome, so there is nothing to compare.',
  oneTable: 'The totals allow only one table, so they say nothing about a difference.',
  tableTooLarge: 'The table allows too many arrangements to count them all; use the chi-square test.',
  oneScore: 'All groups with cases have the same score, so there is no trend to look for.',
  twoScores: 'Two groups always lie on a straight line, so no departure from it can be seen.',
  noPersonTime: 'There is no time under observation.',
  noStrata: 'No stratum has cases in both groups and both outcomes, so none can contribute.',
  oneStratum: 'Only one stratum carries an estimate, so there is nothing to compare between strata.',
  oneCategory: 'All ratings fall into one category, so agreement beyond chance has no meaning.',
  categoryNotUsed: 'Nobody used this category.',
  raterWithoutVariation: 'One rater used a single category, so chance leaves nothing to test.',
  noEventsExpected: 'Nobody is expected to have the event, so no number of cases is enough.',
  powerWithoutCases: 'So little power is reached without any case.',
  noEffect: 'Without a difference to detect, no number of cases is enough.',
  noWeight: 'Every event falls where the chosen weights are zero.',
  moreThanTwoGroups: 'This ratio compares two groups, but more than two have cases.',
  noEventsInGroup: 'One of the groups has no event, so the ratio of their rates is zero or infinite.',
  horizonBeyondFollowUp:
    'The curve ends before this time without having reached zero, so the area is not known.',
  curveAtEdge: 'On this scale both curves must lie strictly between zero and one.',
  noTimeLost: 'No time was lost by this day, so there is no ratio.',
  noCensoring: 'No case was censored.',
  noPotentialTime: 'There was no time in which cases could have been followed.',
  noComparablePairs: 'No two cases can be ordered: none of them is known to have had the event first.',
  perfectOrder: 'Every comparable pair is ordered the same way, so the interval has no width to compute.',
  nobodyLeft: 'Nobody was followed beyond this time.',
  pooledIncidenceAtOne:
    'The incidence of all groups together reaches one before the last event, where this test is not defined.',
  varianceNotPositive: 'So many events share a time that the variance of this test cannot be estimated.',
  noConvergence: 'The search for the best fit did not settle, so there is no estimate to trust.',
  neverSignals: 'The chart practically never signals, so its run length has no number.',
  runTooLong: 'A run passed the longest length allowed without a signal, so the mean length is unknown.',
  runLengthTooShort: 'Even a chart that signals at the first rise runs longer than this.',
  noVariationAtRisk: 'No covariate differs among those at risk when an event happens.',
  collinear: 'This covariate says nothing that the others do not say already.',
  monotoneLikelihood:
    'Some covariates split those with the event from the others so well that their coefficients grow without end.',
  tooFewClusters: 'The clusters are too few, or too much alike, to estimate how much they vary.',
  noTimeVariation: 'The events leave no room to see a change over time.',
  eventAtTimeZero: 'An event at time 0 has no logarithm of its time.',
  farFromData: 'These values lie so far from the data that the model gives no number for them.',
  tooFewCases: 'There are too few cases to find even the largest change with this power.',
  alarmsWithoutChange: 'The chart signals that often without any change.',
  separation: 'Some covariates tell the two outcomes apart so well that their coefficients grow without end.',
  allWeightsZero: 'All weights are zero.',
  noSpread: 'The values do not vary, so there is nothing to measure against.',
  noLimits: 'No limits were given.',
  replicatesAlike: 'All replicates are alike, so they show no width.',
  replicatesOnOneSide:
    'The estimate lies beyond all its replicates, or no row moves it, so these limits are not defined.',
  tooFewReplicates: 'There are too few replicates for limits this far out.',
  replicatesFailed: 'Too many of the samples drawn have no value to speak for the whole.',
  tooFewImputations: 'It takes at least two imputed sets to see how much they differ.',
  nothingObserved: 'A column to be imputed has no observed value to learn from.',
};

export function notEstimable(code: NotEstimableCode): NotEstimable {
  return { kind: 'notEstimable', code, reason: REASONS[code] };
}
