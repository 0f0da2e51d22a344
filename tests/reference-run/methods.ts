import { answer as concordance } from './methods/concordance';
import { answer as cumulativeIncidence } from './methods/cumulative_incidence';
import { answer as followUpCompleteness } from './methods/followup_completeness';
import { answer as kaplanMeier } from './methods/kaplan_meier';
import { answer as kaplanMeierByGroup } from './methods/kaplan_meier_by_group';
import { answer as kaplanMeierLeftTruncated } from './methods/kaplan_meier_left_truncated';
import { answer as survivalDifference } from './methods/km_difference_at_time';
import { answer as landmark } from './methods/landmark';
import { answer as logRank } from './methods/logrank';
import { answer as logRankUndefined } from './methods/logrank_undefined';
import { answer as nelsonAalen } from './methods/nelson_aalen';
import { answer as restrictedMean } from './methods/rmst';
import type { Adapter } from './run-cases';

/** Which adapter answers which method: one line each, both here and above. */
export const ADAPTERS: ReadonlyMap<string, Adapter> = new Map<string, Adapter>([
  ['cumulative_incidence', cumulativeIncidence],
  ['kaplan_meier', kaplanMeier],
  ['kaplan_meier_by_group', kaplanMeierByGroup],
  ['kaplan_meier_left_truncated', kaplanMeierLeftTruncated],
  ['concordance', concordance],
  ['followup_completeness', followUpCompleteness],
  ['km_difference_at_time', survivalDifference],
  ['landmark', landmark],
  ['logrank', logRank],
  ['logrank_undefined', logRankUndefined],
  ['nelson_aalen', nelsonAalen],
  ['rmst', restrictedMean],
]);
