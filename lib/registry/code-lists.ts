import * as acute from './acute-vocabulary';
import { CASE_STATES } from './case-state';
import * as harm from './complication-vocabulary';
import { COMPLICATION_TYPES, HARMS, SEVERITIES } from './complications';
import { DEVICE_KINDS } from './device-days';
import { DRUGS } from './drugs';
import * as lesions from './lesion-vocabulary';
import * as lists from './procedure-vocabulary';
import { READMISSION_CAUSES } from './readmission';
import * as words from './vocabulary';

/** Which list of the vocabulary a stored code comes from, by 'table.field'. */
export const CODE_LISTS: Readonly<Record<string, readonly words.Term[]>> = {
  'users.role': words.ROLES,
  'patients.sex': words.SEXES,
  'patients.deathCause': words.DEATH_CAUSES,
  'patients.deathRelated': words.DEATH_RELATIONS,
  'procedures.energy': words.ENERGIES,
  'procedures.steering': words.STEERINGS,
  'procedures.intendedStrategy': words.STRATEGIES,
  'procedures.settledStrategy': words.STRATEGIES,
  'procedures.indication': lists.INDICATIONS,
  'procedures.deviceType': lists.DEVICE_TYPES,
  'procedures.imaging': lists.IMAGINGS,
  'procedures.anaesthesia': lists.ANAESTHESIAS,
  'procedures.thrombusExclusion': lists.THROMBUS_EXCLUSIONS,
  'procedures.anticoagulation': lists.ANTICOAGULATIONS,
  'procedures.abortedReason': lists.ABORT_REASONS,
  'procedures.rhythmAtStart': words.RHYTHMS,
  'procedures.rhythmAtEnd': words.RHYTHMS,
  'baselines.legalBasis': lists.LEGAL_BASES,
  'baselines.qualityInstrument': lists.QUALITY_INSTRUMENTS,
  'baselines.drugs': DRUGS,
  'procedures.state': CASE_STATES,
  'kept_values.reason': lists.KEEP_REASONS,
  'baselines.afType': words.AF_TYPES,
  'baselines.episodeEnding': words.EPISODE_ENDINGS,
  'baselines.symptomScore': words.SYMPTOM_SCORES,
  'procedures.veins': lesions.VEIN_RINGS,
  'procedures.measuredInRhythm': acute.MEASURED_RHYTHMS,
  'procedures.entranceBlock': acute.VEIN_BLOCKS,
  'procedures.exitBlock': acute.VEIN_BLOCKS,
  'procedures.drugChallenge': acute.DRUG_CHALLENGES,
  'procedures.drugChallengeResult': acute.CHALLENGE_RESULTS,
  'lesion_elements.structure': lesions.STRUCTURES,
  'lesion_elements.segment': lesions.SEGMENTS,
  'lesion_elements.state': lesions.ELEMENT_STATES,
  'lesion_elements.stateReason': lesions.STATE_REASONS,
  'lesion_elements.block': lesions.LINE_BLOCKS,
  'lesion_elements.blockTest': lesions.BLOCK_TESTS,
  'complications.type': COMPLICATION_TYPES,
  'complications.severity': SEVERITIES,
  'complications.harms': HARMS,
  'complications.treatment': harm.TREATMENTS,
  'complications.outcome': harm.OUTCOMES,
  'complications.attribution': harm.ATTRIBUTIONS,
  'complications.adjudicatedVerdict': harm.VERDICTS,
  'complications.adjudicatedType': COMPLICATION_TYPES,
  'complications.adjudicatedSeverity': SEVERITIES,
  'complications.adjudicatedHarms': HARMS,
  'complications.voidedReason': harm.VOID_REASONS,
  'readmissions.cause': READMISSION_CAUSES,
  'readmissions.voidedReason': harm.VOID_REASONS,
  'follow_up_schedules.strategy': words.STRATEGIES,
  'follow_up_visits.mode': words.VISIT_MODES,
  'follow_up_visits.rhythm': words.RHYTHMS,
  'follow_up_visits.symptoms': words.SYMPTOM_SCORES,
  'recordings.kind': words.RECORDING_KINDS,
  'recordings.rhythm': words.RHYTHMS,
  'recordings.source': words.RECORDING_SOURCES,
  'device_days.device': DEVICE_KINDS,
  'drug_episodes.drug': DRUGS,
  'cardioversions.kind': words.CARDIOVERSION_KINDS,
  'analysis_rows.derivedStrategy': words.DERIVED_STRATEGIES,
};

/** A stored code in words, by the table and field that hold it; any other value as it is. */
export function wordsOfCode(table: string, field: string, value: string): string {
  const list = CODE_LISTS[`${table}.${field}`];
  return list ? words.labelOf(list, value) : value;
}
