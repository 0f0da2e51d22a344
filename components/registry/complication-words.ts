import { daysBetween } from '@/lib/registry/calendar-day';
import { type ComplicationFacts, isLateOnset } from '@/lib/registry/complication-standing';
import { ATTRIBUTIONS, OUTCOMES, TREATMENTS, VERDICTS } from '@/lib/registry/complication-vocabulary';
import { COMPLICATION_TYPES, HARMS, SEVERITIES, severityOf } from '@/lib/registry/complications';
import { reportWords } from '@/lib/registry/forms/adjudication-form';
import { SEVERITY_CHOICES } from '@/lib/registry/forms/complication-entries';
import { READMISSION_CAUSES } from '@/lib/registry/readmission';
import { labelOf, type Term } from '@/lib/registry/vocabulary';
import type { FormValue } from '@/lib/registry/write-result';

const LISTS: Readonly<Record<string, readonly Term[]>> = {
  type: COMPLICATION_TYPES,
  severity: SEVERITY_CHOICES,
  verdict: VERDICTS,
  treatment: TREATMENTS,
  outcome: OUTCOMES,
  attribution: ATTRIBUTIONS,
  cause: READMISSION_CAUSES,
};

/** A value of the forms of complications and readmissions as people read it. */
export function wordsForHarm(field: string, value: FormValue): string {
  if (value === null || value === '') return 'not recorded';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  const text = String(value);
  if (field === 'seenReport') return reportWords(text);
  const list = LISTS[field];
  return list ? labelOf(list, text) : text;
}

/** 'Intervention, transfusion', or 'nothing of the list'. */
export function harmWords(harms: readonly string[]): string {
  if (harms.length === 0) return 'nothing of the list';
  return harms
    .map((harm, index) => (index === 0 ? labelOf(HARMS, harm) : labelOf(HARMS, harm).toLowerCase()))
    .join(', ');
}

/** 'day 3, 2024-03-04', late ones said to be so. */
export function onsetWords(performedOn: ComplicationFacts['onsetOn'], onsetOn: ComplicationFacts['onsetOn']) {
  const late = isLateOnset(performedOn, onsetOn) ? ', late' : '';
  return `day ${daysBetween(performedOn, onsetOn)}${late}, ${onsetOn}`;
}

/** The severity with the rule behind it; where a person decided otherwise, both. */
export function severityWords({ type, harms, severity }: Omit<ComplicationFacts, 'onsetOn'>): string {
  const label = labelOf(SEVERITIES, severity);
  const rule = severityOf(type, harms);
  if (rule.severity !== severity) return `${label}, as decided by a person. By the rule: ${rule.reason}`;
  return rule.reason.startsWith(label) ? rule.reason : `${label}. ${rule.reason}`;
}

/** 'Groin haematoma, minor'. */
export function factsWords({ type, severity }: Pick<ComplicationFacts, 'type' | 'severity'>): string {
  return `${labelOf(COMPLICATION_TYPES, type)}, ${severity}`;
}
