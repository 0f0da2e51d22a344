import { slotWords } from '@/lib/registry/visit-slots';
import {
  labelOf,
  RECORDING_KINDS,
  RECORDING_SOURCES,
  RHYTHMS,
  SYMPTOM_SCORES,
  type Term,
  VISIT_MODES,
} from '@/lib/registry/vocabulary';
import type { FormValue } from '@/lib/registry/write-result';

const LISTS: Readonly<Record<string, readonly Term[]>> = {
  mode: VISIT_MODES,
  rhythm: RHYTHMS,
  symptoms: SYMPTOM_SCORES,
  kind: RECORDING_KINDS,
  source: RECORDING_SOURCES,
};

/** A value of the visit form as people read it; fields of a recording are known by their last name. */
export function wordsForVisit(
  field: string,
  value: FormValue,
  slots: readonly { readonly code: string; readonly label: string }[],
): string {
  if (value === null || value === '') return 'not recorded';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (field === 'slot') return slotWords(String(value), slots);
  const list = LISTS[field.slice(field.lastIndexOf('.') + 1)];
  return list ? labelOf(list, String(value)) : String(value);
}
