import { answer as barnardBoschloo } from './methods/barnard_boschloo';
import { answer as bernoulliCusum } from './methods/bernoulli_cusum';
import { answer as cochranArmitage } from './methods/cochran_armitage';
import { answer as cohenKappa } from './methods/cohen_kappa';
import { answer as concordance } from './methods/concordance';
import { answer as cox } from './methods/cox';
import { answer as coxCollinear } from './methods/cox_collinear';
import { answer as coxMonotone } from './methods/cox_monotone';
import { answer as coxUndefined } from './methods/cox_undefined';
import { answer as cumulativeIncidence } from './methods/cumulative_incidence';
import { answer as eValue } from './methods/e_value';
import { answer as ewma } from './methods/ewma';
import { answer as fineGray } from './methods/fine_gray';
import { answer as fisherRowsByColumns } from './methods/fisher_rxc';
import { answer as fleissKappa } from './methods/fleiss_kappa';
import { answer as followUpCompleteness } from './methods/followup_completeness';
import { answer as funnelLimits } from './methods/funnel_limits';
import { answer as funnelRatio } from './methods/funnel_oe';
import { answer as kaplanMeier } from './methods/kaplan_meier';
import { answer as kaplanMeierByGroup } from './methods/kaplan_meier_by_group';
import { answer as kaplanMeierLeftTruncated } from './methods/kaplan_meier_left_truncated';
import { answer as survivalDifference } from './methods/km_difference_at_time';
import { answer as landmark } from './methods/landmark';
import { answer as logRank } from './methods/logrank';
import { answer as logRankUndefined } from './methods/logrank_undefined';
import { answer as multiplicity } from './methods/multiplicity';
import { answer as nelsonAalen } from './methods/nelson_aalen';
import { answer as poissonRate } from './methods/poisson_rate';
import { answer as poissonRateRatio } from './methods/poisson_rate_ratio';
import { answer as propensity } from './methods/propensity';
import { answer as propensitySeparation } from './methods/propensity_separation';
import { answer as proportionLimits } from './methods/proportion_ci';
import { answer as riskAdjustedCusum } from './methods/ra_cusum';
import { answer as riskAdjustedEwma } from './methods/ra_ewma';
import { answer as restrictedMean } from './methods/rmst';
import { answer as ruleOfThree } from './methods/rule_of_three';
import { answer as sampleSizeLogRank } from './methods/samplesize_logrank';
import { answer as sampleSizeProportions } from './methods/samplesize_proportions';
import { answer as tabularCusum } from './methods/tabular_cusum';
import { answer as turnbull } from './methods/turnbull_npmle';
import { answer as twoProportions } from './methods/two_proportions';
import { answer as weightedKaplanMeier } from './methods/weighted_km';
import type { Adapter } from './run-cases';

/** Which adapter answers which method: one line each, both here and above. */
export const ADAPTERS: ReadonlyMap<string, Adapter> = new Map<string, Adapter>([
  ['barnard_boschloo', barnardBoschloo],
  ['bernoulli_cusum', bernoulliCusum],
  ['cochran_armitage', cochranArmitage],
  ['cohen_kappa', cohenKappa],
  ['concordance', concordance],
  ['cox', cox],
  ['cox_collinear', coxCollinear],
  ['cox_monotone', coxMonotone],
  ['cox_undefined', coxUndefined],
  ['cumulative_incidence', cumulativeIncidence],
  ['e_value', eValue],
  ['ewma', ewma],
  ['fine_gray', fineGray],
  ['fisher_rxc', fisherRowsByColumns],
  ['fleiss_kappa', fleissKappa],
  ['followup_completeness', followUpCompleteness],
  ['funnel_limits', funnelLimits],
  ['funnel_oe', funnelRatio],
  ['kaplan_meier', kaplanMeier],
  ['kaplan_meier_by_group', kaplanMeierByGroup],
  ['kaplan_meier_left_truncated', kaplanMeierLeftTruncated],
  ['km_difference_at_time', survivalDifference],
  ['landmark', landmark],
  ['logrank', logRank],
  ['logrank_undefined', logRankUndefined],
  ['multiplicity', multiplicity],
  ['nelson_aalen', nelsonAalen],
  ['poisson_rate', poissonRate],
  ['poisson_rate_ratio', poissonRateRatio],
  ['propensity', propensity],
  ['propensity_separation', propensitySeparation],
  ['proportion_ci', proportionLimits],
  ['ra_cusum', riskAdjustedCusum],
  ['ra_ewma', riskAdjustedEwma],
  ['rmst', restrictedMean],
  ['rule_of_three', ruleOfThree],
  ['samplesize_logrank', sampleSizeLogRank],
  ['samplesize_proportions', sampleSizeProportions],
  ['tabular_cusum', tabularCusum],
  ['turnbull_npmle', turnbull],
  ['two_proportions', twoProportions],
  ['weighted_km', weightedKaplanMeier],
]);
