import { DRUGS } from '@/lib/registry/drugs';
import {
  ABORT_REASONS,
  ANAESTHESIAS,
  ANTICOAGULATIONS,
  DEVICE_TYPES,
  IMAGINGS,
  INDICATIONS,
  LEGAL_BASES,
  QUALITY_INSTRUMENTS,
  THROMBUS_EXCLUSIONS,
} from '@/lib/registry/procedure-vocabulary';
import {
  AF_TYPES,
  ENERGIES,
  EPISODE_ENDINGS,
  labelOf,
  RHYTHMS,
  STEERINGS,
  STRATEGIES,
  SYMPTOM_SCORES,
  type Term,
} from '@/lib/registry/vocabulary';
import type { FormValue } from '@/lib/registry/write-result';

const LISTS: Readonly<Record<string, readonly Term[]>> = {
  indication: INDICATIONS,
  energy: ENERGIES,
  deviceType: DEVICE_TYPES,
  steering: STEERINGS,
  imaging: IMAGINGS,
  anaesthesia: ANAESTHESIAS,
  thrombusExclusion: THROMBUS_EXCLUSIONS,
  anticoagulation: ANTICOAGULATIONS,
  abortedReason: ABORT_REASONS,
  rhythmAtStart: RHYTHMS,
  rhythmAtEnd: RHYTHMS,
  intendedStrategy: STRATEGIES,
  'baseline.afType': AF_TYPES,
  'baseline.episodeEnding': EPISODE_ENDINGS,
  'baseline.symptomScore': SYMPTOM_SCORES,
  'baseline.legalBasis': LEGAL_BASES,
  'baseline.qualityInstrument': QUALITY_INSTRUMENTS,
  'baseline.drugs': DRUGS,
};

/** A value of the procedure form as people read it; a list of codes reads as a list of words. */
export function wordsForProcedure(
  field: string,
  value: FormValue | readonly string[],
  operators: readonly { readonly code: string; readonly label: string }[],
): string {
  if (value === null || value === '') return field === 'abortedReason' ? 'not aborted' : 'not recorded';
  if (field === 'operatorId') return operators.find((one) => one.code === value)?.label ?? 'another operator';
  const list = LISTS[field];
  if (field === 'baseline.drugs') {
    const codes = typeof value === 'object' ? value : String(value).split(', ');
    return codes.length === 0 ? 'none recorded' : codes.map((code) => labelOf(DRUGS, code)).join(', ');
  }
  return list ? labelOf(list, String(value)) : String(value);
}
