import type { Term } from './vocabulary';

/** Lists of the procedure and its circumstances. Common practice, no source, unless a definition says otherwise. */
export const INDICATIONS = [
  {
    code: 'symptoms-drug-failed',
    label: 'Symptoms, a drug failed',
    definition: 'Symptomatic AF after at least one class I or III drug that failed or was not tolerated.',
  },
  {
    code: 'symptoms-first-line',
    label: 'Symptoms, first line',
    definition: 'Symptomatic AF, ablation before any class I or III drug.',
  },
  {
    code: 'heart-failure',
    label: 'Heart failure',
    definition: 'To improve heart failure or left ventricular function.',
  },
  {
    code: 'recurrence',
    label: 'Recurrence after ablation',
    definition: 'Arrhythmia that came back after an earlier ablation.',
  },
  { code: 'other', label: 'Other', definition: 'Any other indication.' },
] as const satisfies readonly [Term, ...Term[]];

export const LEGAL_BASES = [
  { code: 'consent', label: 'Consent', definition: 'The patient agreed in writing to being recorded.' },
  {
    code: 'law',
    label: 'Legal duty or quality review',
    definition: 'A law or the duty of quality review allows it without consent.',
  },
  {
    code: 'ethics-waiver',
    label: 'Waiver by an ethics committee',
    definition: 'An ethics committee waived consent.',
  },
] as const satisfies readonly [Term, ...Term[]];

/** Shapes that decide whether a case is single-shot (derived-strategy.ts). */
export const DEVICE_TYPES = [
  { code: 'point-by-point', label: 'Point by point', definition: 'A catheter with one ablating tip.' },
  { code: 'balloon', label: 'Balloon', definition: 'A balloon in the ostium.' },
  {
    code: 'multi-electrode',
    label: 'Multi-electrode',
    definition: 'A loop, basket or array that ablates by several electrodes at once.',
  },
] as const satisfies readonly [Term, ...Term[]];

export const IMAGINGS = [
  { code: 'fluoroscopy', label: 'Fluoroscopy alone', definition: 'No map.' },
  { code: 'map', label: 'Map', definition: 'A three-dimensional map.' },
  { code: 'map-ct', label: 'Map with CT or MR', definition: 'A map joined with a CT or MR of the atrium.' },
  {
    code: 'map-ice',
    label: 'Map with intracardiac echo',
    definition: 'A map with intracardiac ultrasound.',
  },
  { code: 'other', label: 'Other', definition: 'Anything else.' },
] as const satisfies readonly [Term, ...Term[]];

export const ANAESTHESIAS = [
  { code: 'local', label: 'Local only', definition: 'Local anaesthesia without sedation.' },
  { code: 'conscious-sedation', label: 'Conscious sedation', definition: 'The patient can be spoken to.' },
  { code: 'deep-sedation', label: 'Deep sedation', definition: 'Asleep, breathing without a tube.' },
  { code: 'general', label: 'General anaesthesia', definition: 'Airway secured.' },
] as const satisfies readonly [Term, ...Term[]];

export const THROMBUS_EXCLUSIONS = [
  { code: 'toe', label: 'Transoesophageal echo', definition: 'Before or during the procedure.' },
  { code: 'ice', label: 'Intracardiac echo', definition: 'During the procedure.' },
  { code: 'ct', label: 'CT', definition: 'With late contrast images.' },
  { code: 'not-done', label: 'Not done', definition: 'No imaging; uninterrupted anticoagulant relied on.' },
] as const satisfies readonly [Term, ...Term[]];

export const ANTICOAGULATIONS = [
  { code: 'uninterrupted', label: 'Uninterrupted', definition: 'No dose left out.' },
  { code: 'one-dose', label: 'One dose left out', definition: 'The dose before the procedure was left out.' },
  { code: 'interrupted', label: 'Interrupted', definition: 'Two or more doses left out.' },
  { code: 'bridged', label: 'Bridged with heparin', definition: 'Stopped and replaced by heparin.' },
  { code: 'none', label: 'None', definition: 'No anticoagulant before the procedure.' },
] as const satisfies readonly [Term, ...Term[]];

export const ABORT_REASONS = [
  { code: 'complication', label: 'A complication', definition: 'Broken off because of harm.' },
  { code: 'thrombus', label: 'Thrombus found', definition: 'Broken off because of a thrombus.' },
  { code: 'access', label: 'No access', definition: 'The left atrium was not reached.' },
  { code: 'technical', label: 'Technical fault', definition: 'Equipment failed.' },
  { code: 'patient', label: 'The patient’s state', definition: 'Pain, restlessness, or instability.' },
  { code: 'other', label: 'Other', definition: 'Any other reason.' },
] as const satisfies readonly [Term, ...Term[]];

/** Questionnaires whose totals are kept. Their items are licensed: none is shown or stored. */
export const QUALITY_INSTRUMENTS = [
  { code: 'af-specific', label: 'AF-specific questionnaire', definition: 'Total of an AF questionnaire.' },
  { code: 'general', label: 'General health questionnaire', definition: 'Total of a general questionnaire.' },
  { code: 'index', label: 'Health index', definition: 'An index from 0 (or below) to 1, times 100.' },
  { code: 'scale', label: 'Scale from 0 to 100', definition: 'Health today on a scale.' },
] as const satisfies readonly [Term, ...Term[]];

/** Why a value outside its usual range stays as it is: chosen, not typed, so that no identifier slips in. */
export const KEEP_REASONS = [
  { code: 'source-checked', label: 'Checked against the source', definition: 'The report says the same.' },
  { code: 'measured-again', label: 'Measured again', definition: 'A second measurement agrees.' },
  { code: 'true-here', label: 'True of this patient', definition: 'Unusual, but known to be so.' },
  { code: 'cannot-check', label: 'Cannot be checked now', definition: 'To be looked at again.' },
] as const satisfies readonly [Term, ...Term[]];
