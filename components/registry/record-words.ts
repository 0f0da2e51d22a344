import { wordsOfCode } from '@/lib/registry/code-lists';
import {
  ADJUDICATION_LABELS,
  BASELINE_LABELS,
  COMPLICATION_LABELS,
  PATIENT_LABELS,
  PROCEDURE_LABELS,
  READMISSION_LABELS,
  RECORDING_LABELS,
  VISIT_LABELS,
  VOID_LABELS,
} from '@/lib/registry/forms/field-labels';
import { ELEMENT_FIELD_LABELS } from '@/lib/registry/forms/lesion-fields';
import { ACUTE_LABELS } from '@/lib/registry/forms/lesion-labels';

/** Tables of the record as people call one entry of them, in the order in which a case is read. */
export const ENTITIES: Readonly<Record<string, string>> = {
  patients: 'Patient',
  procedures: 'Procedure',
  baselines: 'Baseline',
  lesion_elements: 'Lesion',
  rf_applications: 'Application',
  complications: 'Complication',
  readmissions: 'Readmission',
  kept_values: 'Unusual value, kept',
  follow_up_visits: 'Visit',
  recordings: 'Recording',
  device_days: 'Device days',
  drug_episodes: 'Drug',
  cardioversions: 'Cardioversion',
};

const FIELDS: Readonly<Record<string, string>> = {
  ...ELEMENT_FIELD_LABELS,
  ...ACUTE_LABELS,
  structure: 'Ring or line',
  segment: 'Segment',
  amplitudeBeforeUv: 'Before, microvolt',
  amplitudeAfterUv: 'After, microvolt',
  ...RECORDING_LABELS,
  ...BASELINE_LABELS,
  ...PROCEDURE_LABELS,
  ...VISIT_LABELS,
  ...PATIENT_LABELS,
  ...COMPLICATION_LABELS,
  ...READMISSION_LABELS,
  adjudicatedVerdict: ADJUDICATION_LABELS.verdict,
  adjudicatedType: ADJUDICATION_LABELS.type,
  adjudicatedOnsetOn: ADJUDICATION_LABELS.onsetOn,
  adjudicatedHarms: ADJUDICATION_LABELS.harms,
  adjudicatedSeverity: ADJUDICATION_LABELS.severity,
  reportedById: 'Reported by',
  adjudicatedById: 'Adjudicated by',
  adjudicatedAt: 'Adjudicated at (UTC)',
  voidedReason: VOID_LABELS.reason,
  voidedById: 'Made void by',
  voidedAt: 'Void since (UTC)',
  code: 'Code',
  ordinal: 'Ordinal',
  state: 'State',
  signedById: 'Signed by',
  signedAt: 'Signed at',
  amendedAt: 'Amended at',
  veins: 'Veins',
  endedOn: 'Ended on',
  durationMinutes: 'Minutes recorded',
  fluoroscopySeconds: 'Fluoroscopy, seconds',
  hospitalNumberHash: 'Hospital number (hash)',
  hospitalNumberKeyId: 'Hospital number (key)',
  drug: 'Drug',
  stoppedOn: 'Last day taken',
  visitId: 'Visit',
  deviceDays: 'Days',
  firstDay: 'First day',
  lastDay: 'Last day',
  withArrhythmia: 'Days with arrhythmia',
  field: 'Field',
  value: 'Value',
  reason: 'Reason',
};

export const wordsForField = (field: string): string => FIELDS[field] ?? field;

/** A stored value in words: codes by their lists, yes and no, several of a list one after another. */
export function wordsForValue(entity: string, field: string, value: unknown): string {
  if (value === null || value === undefined || value === '') return '';
  if (Array.isArray(value)) return value.map((one) => wordsForValue(entity, field, one)).join(', ');
  if (entity === 'kept_values' && field === 'field') return keptFieldWords(String(value));
  if (value === true || value === 'true') return 'yes';
  if (value === false || value === 'false') return 'no';
  const text = typeof value === 'object' ? JSON.stringify(value) : String(value);
  if (text.startsWith('[')) return wordsForValue(entity, field, listIn(text));
  return /^\d{4}-\d{2}-\d{2}T00:00:00\.000Z$/.test(text)
    ? text.slice(0, 10)
    : wordsOfCode(entity, field, text);
}

/** The path of a value that was kept, as its field is called, with the form that it stands in. */
function keptFieldWords(stored: string): string {
  const [form, path] = stored.includes(':') ? stored.split(':') : ['', stored];
  const label = FIELDS[path] ?? FIELDS[path.split('.')[0]] ?? path;
  const [kind] = form.split('/');
  return kind === '' || kind === 'lesions' ? label : `${label} (${kind})`;
}

/** A list that was told as text. */
function listIn(text: string): unknown[] {
  const parsed: unknown = JSON.parse(text);
  return Array.isArray(parsed) ? parsed : [parsed];
}
