/**
 * The statistics library: pure functions on typed or plain arrays, no dependency.
 *
 * Numbers in, numbers out. Columns are `Column = ArrayLike<number>`: equal length, finite, times >= 0 in days.
 * A caller's mistake throws `StatisticsError` (`code`, `argument`, `index`). What cannot be estimated is a tagged
 * result (`kind: 'notEstimable' | 'notReached'`), never NaN or null.
 *
 * Survival (event: 1 event, 0 censored; group codes 0..groupCount-1; entryDays < timeDays)
 *   estimateKaplanMeier({ timeDays, event, entryDays? }, { limits?, confidenceLevel? }): KaplanMeierCurve
 *   estimateKaplanMeierByGroup({ timeDays, event, group, entryDays? }, { groupCount?, limits?, confidenceLevel? }):
 *     KaplanMeierCurve[]                             index = group code; a group without cases is a curve with n = 0
 *   survivalAt(curve, times): (SurvivalPoint | NotEstimable)[]
 *     SurvivalPoint { kind: 'estimated', timeDays, survival, atRisk, beyondFollowUp, interval }
 *     interval: { kind: 'estimated', standardError, lower, upper } | NotEstimable (no event yet; curve at zero)
 *   survivalQuantile(curve, probability): SurvivalQuantile
 *     { kind: 'reached', timeDays, lower, upper } | { kind: 'notReached', reason, lower, upper } | NotEstimable
 *     lower, upper: { kind: 'reached', timeDays } | { kind: 'notReached', reason }
 *   countsAtTicks(curve, ticks): TickCounts          atRisk + eventsSoFar + censoredSoFar + notYetEntered = n
 *   testLogRank({ timeDays, event, group, entryDays?, strata? }, { groupCount?, weighting? }): LogRankTest | NotEstimable
 *     { kind: 'tested', chiSquare, degreesOfFreedom, pValue, groups: { group, n, observed, expected }[], covariance }
 *   testLogRankTrend(same data, scores, same options): LogRankTrendTest | NotEstimable     { z, chiSquare, pValue }
 *   estimateLogRankHazardRatio(test, { confidenceLevel? }): LogRankHazardRatio | NotEstimable
 *   estimateNelsonAalen({ timeDays, event, entryDays? }, { ties?, variance?, limits?, confidenceLevel? }): NelsonAalenCurve
 *   estimateRestrictedMean(curve, horizonDays): RestrictedMean | NotEstimable
 *     { kind: 'estimated', horizonDays, meanDays, lostDays, variance, interval }
 *   estimateRestrictedMeanContrast(first, second, { confidenceLevel? }): { difference, ratio, lostRatio }
 *     each { kind: 'estimated', estimate, standardError, lower, upper, z, pValue } | NotEstimable; second against first
 *   selectAtLandmark({ timeDays, event, entryDays? }, landmarkDays): { n, rows, timeDays, event, entryDays? }
 *   estimateConditionalSurvival(curve, fromDays, laterDays): (ConditionalSurvivalPoint | NotEstimable)[]
 *   testSurvivalDifference(firstCurve, secondCurve, times, { confidenceLevel? }): (SurvivalDifference | NotEstimable)[]
 *     { first, second, difference, beyondFollowUp, plain: { standardError, lower, upper, z, pValue } | NotEstimable, logLog }
 *   estimateWeightedKaplanMeier({ timeDays, event, entryDays?, weights?, cluster? }, { limits?, confidenceLevel? }),
 *     estimateWeightedKaplanMeierByGroup({ ..., group }, { groupCount?, ... }): WeightedKaplanMeierCurve(s) with robust errors,
 *     read by survivalAt, survivalQuantile, countsAtTicks
 *   testWeightedSurvivalDifference({ ..., group }, times, { groups?, confidenceLevel? }): as testSurvivalDifference
 *   testWeightedLogRank({ timeDays, event, group, weights }, { variance? }): WeightedLogRankTest | NotEstimable
 *     { kind: 'tested', score, variance, z, chiSquare, pValue }      two groups
 *   estimateReverseKaplanMeier({ timeDays, event, entryDays? }, { tiedEvents?, limits?, confidenceLevel? })
 *   summariseFollowUp({ timeDays, event }): { n, personDays, medianDays, medianDaysOfCensored }
 *   estimateFollowUpCompleteness({ timeDays, event, potentialDays }): FollowUpCompleteness | NotEstimable
 *     { kind: 'estimated', n, clarkIndex, potentialUsedDays, simplifiedPersonTime, completeShare }
 *   estimateConcordance({ timeDays, event, marker, entryDays?, weights?, strata?, cluster? }, { confidenceLevel? }): Concordance | NotEstimable
 *     { kind: 'estimated', concordance, interval, concordant, discordant, tiedMarker, tiedTime, tiedBoth }
 *   estimateCumulativeIncidence({ timeDays, status, entryDays? }, { causeCount?, limits?, confidenceLevel? })
 *   estimateCumulativeIncidenceByGroup({ ..., group }, { groupCount?, ... }): CumulativeIncidence[]
 *     status: 0 censored, 1..causeCount causes; result.causes[cause - 1] holds the curve of that cause
 *   incidenceAt(estimate, cause, times): (IncidencePoint | NotEstimable)[]
 *   testGray({ timeDays, status, group, strata? }, { cause?, rho?, groupCount? }): GrayTest | NotEstimable
 *     { kind: 'tested', chiSquare, degreesOfFreedom, pValue, cause, rho, score, covariance }
 *   estimateTurnbull({ leftDays, rightDays }): TurnbullCurve | NotEstimable      events in (left, right], right may be Infinity
 *     { kind: 'estimated', n, leftDays, rightDays, mass, logLikelihood, largestGradient }
 *   survivalBoundsAt(curve, times): { kind: 'determined' | 'undetermined', timeDays, lower, upper }[]
 * Regression (data: { timeDays, event, covariates, entryDays?, weights?, strata?, offset?, cluster? })
 *   fitCox(data, { ties?, variance?, confidenceLevel? }): CoxFit | CoxMonotone | NotEstimable
 *     CoxFit { kind: 'fitted', coefficients: (CoxCoefficient | NotEstimable)[], estimated, covariance, modelCovariance, wald,
 *       robustScore?, n, eventTotal, nullLogLikelihood, logLikelihood, likelihoodRatio, score }
 *     CoxCoefficient { kind: 'estimated', coefficient, hazardRatio, interval: { standardError, z, pValue, lower, upper } }
 *     CoxMonotone { kind: 'monotone', reason, coefficients with { kind: 'infinite', sign }, ... }: tests that stand
 *   fitCoxByGroup({ timeDays, event, group, strata? }, { reference?, groupCount?, ties?, confidenceLevel? }): the same
 *   testProportionalHazards(data, fit, { transform? }): { covariates: (CoxTest | NotEstimable)[], global }
 *   deriveSchoenfeldResiduals(data, fit): { rows, timeDays, residuals }     deriveMartingaleResiduals(data, fit): Float64Array
 *   estimateCoxCurve(data, fit, { covariates, offset? }, { confidenceLevel? }): (CoxCurve | NotEstimable)[]     per stratum
 *   estimateAdjustedCoxCurve(data, fit, fixed?: { covariate, value }[]): (AdjustedCoxCurve | NotEstimable)[]
 *   fitFineGray({ timeDays, status, covariates }, { cause?, tiedFailures?, confidenceLevel? }):
 *     FineGrayFit | FineGrayMonotone | NotEstimable
 *   deriveFineGrayIncidence(fit, covariates of one case, times): Float64Array
 *   fitLogisticRegression({ outcome, covariates, weights?, offset? }, { confidenceLevel? }): LogisticFit | NotEstimable
 *     { kind: 'fitted', intercept, terms: (LogisticTerm | NotEstimable)[], covariance, fitted, deviance, aic, ... }
 *     LogisticTerm { kind: 'estimated', coefficient, standardError, z, pValue, oddsRatio, lower, upper }
 *   estimateCStatistic({ outcome, marker, weights? }, { confidenceLevel? }): { cStatistic, interval } | NotEstimable
 * Weighting (treated: 1 or 0; estimand: 'ate' | 'att' | 'atc' | 'overlap' | 'matching')
 *   deriveBalancingWeights({ treated, propensity }, { estimand, stabilised?, truncation? }): { weights, truncated? }
 *   estimateBalance({ treated, covariates, weights? }): CovariateBalance[] | NotEstimable
 *   estimateEffectiveSampleSize({ weights, group? }, { groupCount? }): (number | NotEstimable)[]      index = group code
 *   estimateWeightedDifference({ outcome, treated, weights? }, { confidenceLevel? })           weights taken as known
 *   estimatePropensityWeightedDifference({ outcome, treated, covariates, cluster? }, { estimand, confidenceLevel? })
 *     { kind: 'estimated', treatedMean, controlMean, difference, interval } | NotEstimable; propensity estimated
 *   estimatePropensityVariance({ treated, covariates, slope, cluster? }, { estimand }): { variance } | NotEstimable
 *   estimateEValue({ estimate, lower?, upper? }, { measure? }): { riskRatio, limits, eValue, eValueOfLimit }
 * Resampling (the same seed gives the same numbers)
 *   deriveGenerator(seed): RandomGenerator { uniform(), below(count), nextWord() }
 *   drawNormal(generator), drawBinomial(generator, n, probability), drawMultinomial(generator, n, weights)
 *   estimateByBootstrap({ rows, strata?, cluster? }, statistic(rows), { seed, replicates?, limits?, confidenceLevel? })
 *     { kind: 'estimated', estimate, replicates, failed, mean, standardError, interval } | NotEstimable
 *   estimateSurvivalByBootstrap({ timeDays, event }, times, the same options): (BootstrappedSurvival | NotEstimable)[]
 *   deriveBootstrapLimits({ estimate, replicates, influence?, multiplicity? }, { limits?, confidenceLevel? })
 * Imputation (missing values are null; the caller says which columns are imputed and how)
 *   imputeByChainedEquations(columns, { imputations, seed, iterations?, donors?, onProgress? }): ImputedSets | NotEstimable
 *     column: { kind: 'complete' | 'numeric' | 'binary' | 'categories', values }; result { kind: 'imputed', sets, traces }
 *   poolEstimates({ estimates, variances }, { completeDegreesOfFreedom?, confidenceLevel? }): PooledEstimate | NotEstimable
 * Proportions (an arm: { events, n })
 *   estimateWilsonInterval(events, n, { confidenceLevel?, continuityCorrection? }): WilsonInterval | NotEstimable
 *     { kind: 'estimated', events, n, proportion, lower, upper }
 *   estimateProportion(events, n, { limits?, confidenceLevel? }): the same by any other limits
 *   estimateZeroEventLimits(n, { confidenceLevel? }): upper limits when nothing has happened among n
 *   estimateRiskDifference(first, second, { limits?, confidenceLevel? }), estimateRiskRatio, estimateOddsRatio
 *     { kind: 'estimated', difference or ratio, lower, upper, ... } | NotEstimable
 *   testFisherExact(first, second), testBarnard, testBoschloo, testFisherExactTable(table), testPearsonChiSquare(table)
 *   testProportionTrend({ events, n, scores })
 *   estimateMantelHaenszel({ firstEvents, firstN, secondEvents, secondN }, { measure?, confidenceLevel? }),
 *     testCochranMantelHaenszel, testStratumHeterogeneity, testBreslowDay
 * Rates
 *   estimatePoissonRate(events, personTime, { limits?, confidenceLevel? }), testPoissonRate(events, personTime, rate)
 *   estimateRateRatio(first, second, { limits?, confidenceLevel? }), testRateRatio      an arm: { events, personTime }
 * Agreement
 *   estimateCohenKappa(table, { weights?, confidenceLevel? }), estimateFleissKappa(counts)
 * Multiplicity
 *   adjustPValues(pValues, method): Float64Array
 * Planning
 *   estimateLogRankEvents({ hazardRatio, power, significanceLevel?, allocationRatio? }, { formula? }),
 *     estimateLogRankPower({ hazardRatio, events, ... }), estimateEventProbability(plan, design),
 *     estimateLogRankSampleSize(design, plan, { formula? })
 *   estimateProportionsSampleSize({ first, second, power, significanceLevel? }, { formula? }), estimateProportionsPower
 * Surveillance (rows in the order in which the cases enter; cases are counted from 1)
 *   deriveRiskAdjustedCusum({ event, probability }, { oddsRatio, threshold, baselineOddsRatio? }): one direction
 *     { weight, sum, firstSignal, sumWithReset, signals }
 *     firstSignal: { kind: 'signal', atCase } | { kind: 'quiet' }
 *   deriveBernoulliCusum(event, { baselineRate, shiftedRate, threshold }): the same for cases of equal risk
 *   deriveObservedMinusExpected({ event, probability }): running sums, vlad, standardDeviation
 *   deriveEwma(values, { target, standardDeviation, newestShare, limitWidth })
 *   deriveRiskAdjustedEwma({ event, probability }, { newestShare, limitWidth, start? }): RiskAdjustedEwma | NotEstimable
 *   deriveTabularCusum(values, { target, slack, threshold }): { high, low, firstHigh, firstLow }
 *   deriveCusumRunLength({ probability, trueProbability? }, { oddsRatio, threshold, trueOddsRatio?, baselineOddsRatio? },
 *     { cells? }): CusumRunLength | NotEstimable      by a Markov chain
 *   estimateCusumRunLength(same, same, { random, runs, longestRun? }): SimulatedRunLength | NotEstimable
 *   deriveCusumAlarmChance(same, same, cases, { cells? }): CusumAlarmChance | NotEstimable
 *   deriveCusumThreshold(same, chart without threshold, runLength, { cells? }): CusumThreshold | NotEstimable
 *   deriveRunLengthUncertainty(probability, draws, chart, { cells?, confidenceLevel? }): RunLengthUncertainty | NotEstimable
 *   deriveGeometricChart(event, { baselineRate, tailProbability }): gaps between events, limits, signals
 *   deriveRateDraws(events, n, count): Float64Array      of a constant baseline rate, for deriveRunLengthUncertainty
 *   testAlarmCount(alarms, cases, runLength, { confidenceLevel? }): AlarmCountTest | NotEstimable
 *   deriveDetectableRise({ n, baselineRate, power?, significanceLevel? }): DetectableRise | NotEstimable
 *   deriveCusumDetectableChange(caseMix, chart, cases, { power?, cells? }): CusumDetectableChange | NotEstimable
 *   deriveFunnelLimits(n, target, probability, { overdispersion? }): one line of a funnel
 *   deriveRatioFunnelLimits(expected, probability), deriveWilsonFunnelLimits(n, target, { confidenceLevel? })
 *   deriveFunnelPoints({ events, n }, target), estimateOverdispersion({ events, n }, target)
 * Special functions
 *   of each distribution: ...Density or ...Probability, ...LowerTail (x included), ...UpperTail (x excluded),
 *     ...Quantile(p) of the lower tail, ...UpperQuantile(p) of the upper
 *   normalDensity(z), normalLowerTail(z), ..., normalQuantile(p), ...; normalLogLowerTail(z), normalLogUpperTail(z)
 *   studentDensity(t, degreesOfFreedom), ...            studentQuantile(p, degreesOfFreedom), ...
 *   chiSquareDensity(x, degreesOfFreedom), ...          chiSquareQuantile(p, degreesOfFreedom), ...
 *   fDensity(x, numerator, denominator), ...            fQuantile(p, numerator, denominator), ...
 *   gammaDensity(shape, x), gammaLowerTail(shape, x), ...    gammaQuantile(shape, p), ...
 *   betaDensity(x, a, b), ...                           betaQuantile(p, a, b), ...
 *   binomialProbability(x, n, chance), ...              binomialQuantile(p, n, chance), ...
 *   poissonProbability(x, mean), ...                    poissonQuantile(p, mean), ...
 *   hypergeometricProbability(x, { marked, unmarked, drawn }), ...    hypergeometricQuantile(p, urn), ...
 *   logGamma(x), errorFunction(x), complementaryErrorFunction(x)
 */
export type { NotEstimable, NotEstimableCode } from './absence';
export { type CohenKappa, estimateCohenKappa, type KappaWeights } from './agreement/cohen-kappa';
export { estimateFleissKappa, type FleissKappa } from './agreement/fleiss-kappa';
export type { Column } from './check-input';
export { StatisticsError, type StatisticsErrorCode } from './errors';
export {
  type ImputationOptions,
  type ImputedSets,
  imputeByChainedEquations,
} from './imputation/chained-equations';
export type { ColumnToImpute } from './imputation/columns-to-impute';
export { type PooledEstimate, poolEstimates } from './imputation/pool';
export { adjustPValues, type MultiplicityMethod } from './multiplicity/adjust-p-values';
export {
  type EventProbability,
  estimateEventProbability,
  type FollowUpPlan,
} from './planning/event-probability';
export {
  estimateLogRankEvents,
  type LogRankDesign,
  type LogRankEvents,
  type LogRankFormula,
} from './planning/log-rank-events';
export { estimateLogRankPower } from './planning/log-rank-power';
export { estimateLogRankSampleSize, type LogRankSampleSize } from './planning/log-rank-sample-size';
export { estimateProportionsPower } from './planning/proportions-power';
export {
  estimateProportionsSampleSize,
  type ProportionsFormula,
  type ProportionsSampleSize,
} from './planning/proportions-sample-size';
export type { ArmCount } from './proportions/arms';
export { type BarnardTest, testBarnard } from './proportions/barnard';
export { type BoschlooTest, testBoschloo } from './proportions/boschloo';
export { type BreslowDayTest, testBreslowDay } from './proportions/breslow-day';
export { testCochranMantelHaenszel } from './proportions/cochran-mantel-haenszel';
export { type FisherExactTest, testFisherExact } from './proportions/fisher';
export { type FisherTableTest, testFisherExactTable } from './proportions/fisher-table';
export {
  estimateMantelHaenszel,
  type MantelHaenszel,
  type StratifiedMeasure,
} from './proportions/mantel-haenszel';
export { estimateOddsRatio, type OddsRatio, type OddsRatioLimits } from './proportions/odds-ratio';
export { type ChiSquareTest, testPearsonChiSquare } from './proportions/pearson-chi-square';
export { estimateProportion, type Proportion, type ProportionLimits } from './proportions/proportion';
export { type ProportionTrend, testProportionTrend } from './proportions/proportion-trend';
export {
  estimateRiskDifference,
  type RiskDifference,
  type RiskDifferenceLimits,
} from './proportions/risk-difference';
export { estimateRiskRatio, type RiskRatio, type RiskRatioLimits } from './proportions/risk-ratio';
export type { StratifiedArms } from './proportions/strata-of-arms';
export { type StratumHeterogeneity, testStratumHeterogeneity } from './proportions/stratum-heterogeneity';
export { estimateWilsonInterval, type WilsonInterval } from './proportions/wilson';
export { estimateZeroEventLimits, type ZeroEventLimits } from './proportions/zero-events';
export { estimatePoissonRate, type PoissonRate, type PoissonRateLimits } from './rates/poisson-rate';
export type { RateCount } from './rates/rate-arms';
export { estimateRateRatio, type RateRatio, type RateRatioLimits } from './rates/rate-ratio';
export { type PoissonRateTest, testPoissonRate } from './rates/test-poisson-rate';
export { testRateRatio } from './rates/test-rate-ratio';
export { type CStatistic, estimateCStatistic } from './regression/c-statistic';
export { type CoxOptions, fitCox } from './regression/cox';
export {
  type AdjustedCoxCurve,
  estimateAdjustedCoxCurve,
  type FixedCovariate,
} from './regression/cox-adjusted-curve';
export { fitCoxByGroup, type GroupedCoxData, type GroupedCoxOptions } from './regression/cox-by-group';
export type { CoxTies } from './regression/cox-cells';
export {
  type CovariatePattern,
  type CoxCurve,
  type CoxCurveInterval,
  estimateCoxCurve,
} from './regression/cox-curve';
export type { CoxData } from './regression/cox-data';
export { deriveMartingaleResiduals } from './regression/cox-martingale';
export {
  type ProportionalHazardsTest,
  type TimeTransform,
  testProportionalHazards,
} from './regression/cox-proportional-hazards';
export type {
  CoxCoefficient,
  CoxFit,
  CoxInterval,
  CoxMonotone,
  CoxTest,
  CoxVariance,
  InfiniteCoefficient,
} from './regression/cox-result';
export { deriveSchoenfeldResiduals, type SchoenfeldResiduals } from './regression/cox-schoenfeld';
export {
  type FineGrayData,
  type FineGrayFit,
  type FineGrayMonotone,
  type FineGrayOptions,
  fitFineGray,
} from './regression/fine-gray';
export type { TiedFailures } from './regression/fine-gray-design';
export { deriveFineGrayIncidence } from './regression/fine-gray-incidence';
export { fitLogisticRegression, type LogisticFit, type LogisticTerm } from './regression/logistic';
export type { LogisticData } from './regression/logistic-design';
export {
  type BootstrapDesign,
  type BootstrapEstimate,
  type BootstrapOptions,
  estimateByBootstrap,
} from './resampling/bootstrap';
export {
  type BootstrapInterval,
  type BootstrapLimits,
  deriveBootstrapLimits,
} from './resampling/bootstrap-limits';
export { drawBinomial, drawMultinomial, drawNormal } from './resampling/draws';
export { deriveGenerator, type RandomGenerator } from './resampling/generator';
export { type BootstrappedSurvival, estimateSurvivalByBootstrap } from './resampling/survival-bootstrap';
export {
  betaDensity,
  betaLowerTail,
  betaQuantile,
  betaUpperQuantile,
  betaUpperTail,
} from './special/beta';
export {
  binomialLowerTail,
  binomialProbability,
  binomialQuantile,
  binomialUpperQuantile,
  binomialUpperTail,
} from './special/binomial';
export {
  chiSquareDensity,
  chiSquareLowerTail,
  chiSquareQuantile,
  chiSquareUpperQuantile,
  chiSquareUpperTail,
} from './special/chi-square';
export { complementaryErrorFunction, errorFunction } from './special/error-function';
export {
  fDensity,
  fLowerTail,
  fQuantile,
  fUpperQuantile,
  fUpperTail,
} from './special/f-distribution';
export { gammaDensity, gammaQuantile, gammaUpperQuantile } from './special/gamma';
export {
  hypergeometricLowerTail,
  hypergeometricProbability,
  hypergeometricQuantile,
  hypergeometricUpperQuantile,
  hypergeometricUpperTail,
  type Urn,
} from './special/hypergeometric';
export { gammaLowerTail, gammaUpperTail } from './special/incomplete-gamma';
export { logGamma } from './special/log-gamma';
export {
  normalDensity,
  normalLogLowerTail,
  normalLogUpperTail,
  normalLowerTail,
  normalQuantile,
  normalUpperQuantile,
  normalUpperTail,
} from './special/normal';
export {
  poissonLowerTail,
  poissonProbability,
  poissonQuantile,
  poissonUpperQuantile,
  poissonUpperTail,
} from './special/poisson';
export {
  studentDensity,
  studentLowerTail,
  studentQuantile,
  studentUpperQuantile,
  studentUpperTail,
} from './special/student';
export { type AlarmCountTest, testAlarmCount } from './surveillance/alarm-count';
export {
  type BernoulliCusum,
  type BernoulliCusumDesign,
  deriveBernoulliCusum,
} from './surveillance/bernoulli-cusum';
export type { CaseMix, MonitoredCusum } from './surveillance/case-mix';
export type { ExpectedOutcomes } from './surveillance/check-chart';
export { type CusumAlarmChance, deriveCusumAlarmChance } from './surveillance/cusum-alarm-chance';
export {
  type CusumDetectableChange,
  deriveCusumDetectableChange,
} from './surveillance/cusum-detectable-change';
export type { CusumPath } from './surveillance/cusum-path';
export {
  type ChainOptions,
  type CusumRunLength,
  deriveCusumRunLength,
} from './surveillance/cusum-run-length';
export { type CusumThreshold, deriveCusumThreshold } from './surveillance/cusum-threshold';
export type { CusumHypotheses } from './surveillance/cusum-weight';
export {
  type DetectableRise,
  type DetectableRiseDesign,
  deriveDetectableRise,
} from './surveillance/detectable-rise';
export { deriveEwma, type Ewma, type EwmaDesign } from './surveillance/ewma';
export type { FirstSignal } from './surveillance/first-signal';
export {
  deriveFunnelLimits,
  deriveRatioFunnelLimits,
  deriveWilsonFunnelLimits,
  type FunnelLimits,
  type RatioFunnelLimits,
} from './surveillance/funnel-limits';
export {
  deriveFunnelPoints,
  estimateOverdispersion,
  type FunnelPoints,
  type FunnelUnits,
  type Overdispersion,
} from './surveillance/funnel-points';
export {
  deriveGeometricChart,
  type GeometricChart,
  type GeometricChartDesign,
} from './surveillance/geometric-chart';
export {
  deriveObservedMinusExpected,
  type ObservedMinusExpected,
} from './surveillance/observed-minus-expected';
export { deriveRateDraws } from './surveillance/rate-draws';
export {
  deriveRiskAdjustedCusum,
  type RiskAdjustedCusum,
  type RiskAdjustedCusumDesign,
} from './surveillance/risk-adjusted-cusum';
export {
  deriveRiskAdjustedEwma,
  type RiskAdjustedEwma,
  type RiskAdjustedEwmaDesign,
} from './surveillance/risk-adjusted-ewma';
export { deriveRunLengthUncertainty, type RunLengthUncertainty } from './surveillance/run-length-uncertainty';
export {
  estimateCusumRunLength,
  type SimulatedRunLength,
  type SimulationOptions,
} from './surveillance/simulated-run-length';
export { deriveTabularCusum, type TabularCusum, type TabularCusumDesign } from './surveillance/tabular-cusum';
export { type Concordance, type ConcordanceData, estimateConcordance } from './survival/concordance';
export { type ConditionalSurvivalPoint, estimateConditionalSurvival } from './survival/conditional-survival';
export { countsAtTicks, type TickCounts } from './survival/counts-at-ticks';
export {
  type CauseIncidence,
  type CompetingData,
  type CumulativeIncidence,
  estimateCumulativeIncidence,
  estimateCumulativeIncidenceByGroup,
  type GroupedCompetingData,
  type IncidenceOptions,
} from './survival/cumulative-incidence';
export {
  estimateFollowUpCompleteness,
  type FollowUpCompleteness,
  type FollowUpCompletenessData,
} from './survival/follow-up-completeness';
export { type FollowUpSummary, summariseFollowUp } from './survival/follow-up-summary';
export { type GrayData, type GrayOptions, type GrayTest, testGray } from './survival/gray';
export { type IncidencePoint, incidenceAt } from './survival/incidence-at';
export type { IncidenceLimits } from './survival/incidence-limits';
export {
  estimateKaplanMeier,
  estimateKaplanMeierByGroup,
  type GroupedSurvivalData,
  type KaplanMeierCurve,
  type ReadableCurve,
  type SurvivalData,
} from './survival/kaplan-meier';
export { type LandmarkSelection, selectAtLandmark } from './survival/landmark';
export { type LogRankGroup, type LogRankTest, testLogRank } from './survival/log-rank';
export { estimateLogRankHazardRatio, type LogRankHazardRatio } from './survival/log-rank-hazard-ratio';
export type { LogRankData, LogRankOptions } from './survival/log-rank-sums';
export { type LogRankTrendTest, testLogRankTrend } from './survival/log-rank-trend';
export type { LogRankWeighting } from './survival/log-rank-weights';
export type { IntervalData } from './survival/maximal-intersections';
export {
  estimateNelsonAalen,
  type NelsonAalenCurve,
  type NelsonAalenOptions,
} from './survival/nelson-aalen';
export type { KaplanMeierOptions } from './survival/product-limit';
export { estimateRestrictedMean, type RestrictedMean } from './survival/restricted-mean';
export {
  type Contrast,
  estimateRestrictedMeanContrast,
  type RestrictedMeanContrast,
} from './survival/restricted-mean-contrast';
export {
  estimateReverseKaplanMeier,
  type ReverseKaplanMeierOptions,
} from './survival/reverse-kaplan-meier';
export { type EstimatedInterval, type SurvivalPoint, survivalAt } from './survival/survival-at';
export { type SurvivalBounds, survivalBoundsAt } from './survival/survival-bounds-at';
export {
  type SurvivalDifference,
  testSurvivalDifference,
} from './survival/survival-difference';
export type { SurvivalLimits } from './survival/survival-limits';
export { type QuantileLimit, type SurvivalQuantile, survivalQuantile } from './survival/survival-quantile';
export { estimateTurnbull, type TurnbullCurve } from './survival/turnbull';
export {
  estimateWeightedKaplanMeier,
  estimateWeightedKaplanMeierByGroup,
  type GroupedWeightedSurvivalData,
  type WeightedKaplanMeierCurve,
  type WeightedSurvivalData,
} from './survival/weighted-kaplan-meier';
export {
  testWeightedLogRank,
  type WeightedLogRankData,
  type WeightedLogRankTest,
  type WeightedLogRankVariance,
} from './survival/weighted-log-rank';
export {
  testWeightedSurvivalDifference,
  type WeightedDifferenceOptions,
} from './survival/weighted-survival-difference';
export { type CovariateBalance, estimateBalance } from './weighting/balance';
export {
  type BalancingWeightOptions,
  type BalancingWeights,
  deriveBalancingWeights,
} from './weighting/balancing-weights';
export { type EValue, type EValueMeasure, estimateEValue } from './weighting/e-value';
export { estimateEffectiveSampleSize } from './weighting/effective-sample-size';
export { estimatePropensityVariance, type PropensityVarianceData } from './weighting/propensity-variance';
export {
  estimatePropensityWeightedDifference,
  type PropensityWeightedDifference,
} from './weighting/propensity-weighted-difference';
export type { WeightingEstimand } from './weighting/weight-with-slope';
export {
  type DifferenceInterval,
  estimateWeightedDifference,
  type WeightedDifference,
} from './weighting/weighted-difference';
