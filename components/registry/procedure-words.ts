import {
  AF_TYPES,
  ENERGIES,
  EPISODE_ENDINGS,
  labelOf,
  STEERINGS,
  STRATEGIES,
  SYMPTOM_SCORES,
  type Term,
} from '@/lib/registry/vocabulary';
import type { FormValue } from '@/lib/registry/write-result';

const LISTS: Readonly<Record<string, readonly Term[]>> = {
  energy: ENERGIES,
  steering: STEERINGS,
  intendedStrategy: STRATEGIES,
  'baseline.afType': AF_TYPES,
  'baseline.episodeEnding': EPISODE_ENDINGS,
  'baseline.symptomScore': SYMPTOM_SCORES,
};

/** A value of the procedure form as people read it. */
export function wordsForProcedure(
  field: string,
  value: FormValue,
  operators: readonly { readonly code: string; readonly label: string }[],
): string {
  if (value === null || value === '') return 'not recorded';
  if (field === 'operatorId') return operators.find((one) => one.code === value)?.label ?? 'another operator';
  const list = LISTS[field];
  return list ? labelOf(list, String(value)) : String(value);
}
