/** One word of the trade: the code that is stored, the label that is read, what it means. */
export interface Term<Code extends string = string> {
  readonly code: Code;
  readonly label: string;
  readonly definition: string;
}

type CodeOf<List extends readonly Term[]> = List[number]['code'];

/** The codes of a list, as the non-empty tuple that zod's enum wants. */
export function codesOf<const List extends readonly [Term, ...Term[]]>(
  list: List,
): [CodeOf<List>, ...CodeOf<List>[]] {
  const [first, ...rest] = list;
  return [first.code, ...rest.map((term) => term.code)];
}

/** The label of a code, or the code itself when the list has no such entry (old data stay readable). */
export function labelOf(list: readonly Term[], code: string | null | undefined): string {
  if (code === null || code === undefined) return 'not recorded';
  return list.find((term) => term.code === code)?.label ?? code;
}

/** AF types of the 2017 consensus, Table 1. "Permanent", "chronic" and "lone" do not exist for a patient who is ablated. */
export const AF_TYPES = [
  { code: 'paroxysmal', label: 'Paroxysmal', definition: 'Ends by itself or by intervention within 7 days.' },
  {
    code: 'early-persistent',
    label: 'Early persistent',
    definition: 'Continuous for more than 7 days and less than 3 months.',
  },
  {
    code: 'persistent',
    label: 'Persistent',
    definition: 'Continuous for more than 7 days, up to 12 months.',
  },
  {
    code: 'long-standing-persistent',
    label: 'Long-standing persistent',
    definition: 'Continuous for more than 12 months.',
  },
] as const satisfies readonly [Term, ...Term[]];
export type AfType = CodeOf<typeof AF_TYPES>;

/** Strategies; how one is derived from the lesions: derived-strategy.ts. */
export const STRATEGIES = [
  { code: 'ostial', label: 'Ostial', definition: 'Each vein by itself, close to its ostium.' },
  {
    code: 'wide-encircling',
    label: 'Wide encircling',
    definition: 'Each ipsilateral pair in one ring, well outside the ostia.',
  },
  {
    code: 'wide-with-lines',
    label: 'Wide with lines',
    definition: 'Wide encircling plus a roof, floor or mitral isthmus line.',
  },
  { code: 'single-shot', label: 'Single-shot', definition: 'A balloon or multi-electrode device.' },
  { code: 'mixed', label: 'Mixed', definition: 'None of the others fits.' },
] as const satisfies readonly [Term, ...Term[]];
type Strategy = CodeOf<typeof STRATEGIES>;

/** What derivation may answer besides a strategy. */
export const NOT_DERIVABLE = 'not-derivable';
export type DerivedStrategy = Strategy | typeof NOT_DERIVABLE;
export const DERIVED_STRATEGIES = [
  ...STRATEGIES,
  {
    code: NOT_DERIVABLE,
    label: 'Not derivable',
    definition: 'Too few segments of a ring are recorded to say.',
  },
] as const satisfies readonly [Term, ...Term[]];

export const ENERGIES = [
  { code: 'radiofrequency', label: 'Radiofrequency', definition: 'Point-by-point radiofrequency current.' },
  { code: 'pulsed-field', label: 'Pulsed field', definition: 'Short high-voltage pulses.' },
  { code: 'cryo-balloon', label: 'Cryoballoon', definition: 'Freezing by a balloon in the ostium.' },
  { code: 'cryo-focal', label: 'Focal cryo', definition: 'Point-by-point freezing.' },
  { code: 'laser', label: 'Laser', definition: 'Laser light through a balloon.' },
  { code: 'other', label: 'Other', definition: 'Any other energy.' },
] as const satisfies readonly [Term, ...Term[]];
export type Energy = CodeOf<typeof ENERGIES>;

/** Rhythms found by a recording. */
export const RHYTHMS = [
  {
    code: 'sinus',
    label: 'Sinus rhythm, no atrial arrhythmia',
    definition: 'No AF, AT or AFL in the whole recording.',
  },
  { code: 'af', label: 'AF', definition: 'Atrial fibrillation.' },
  { code: 'at', label: 'AT', definition: 'Atrial tachycardia.' },
  {
    code: 'afl-atypical',
    label: 'Atypical flutter',
    definition: 'Atrial flutter that does not depend on the cavotricuspid isthmus.',
  },
  {
    code: 'afl-typical',
    label: 'Typical flutter',
    definition: 'Flutter thought to depend on the cavotricuspid isthmus.',
  },
  {
    code: 'afl-typical-confirmed',
    label: 'Typical flutter, confirmed',
    definition: 'Isolated, dependence on the cavotricuspid isthmus confirmed at an EP study.',
  },
  {
    code: 'other',
    label: 'Other rhythm',
    definition: 'A rhythm that is none of these (ectopy, junctional, ventricular).',
  },
] as const satisfies readonly [Term, ...Term[]];
export type Rhythm = CodeOf<typeof RHYTHMS>;

/** Kinds of rhythm evidence in order of how much they see. */
export const RECORDING_KINDS = [
  { code: 'ecg', label: 'ECG', definition: 'A standard ECG, about 10 s.' },
  { code: 'rhythm-strip', label: 'Rhythm strip', definition: 'A patient-triggered or hand-held strip.' },
  {
    code: 'holter',
    label: 'Continuous recording, 24 h or longer',
    definition: 'A continuous external recording; its hours say how long.',
  },
  {
    code: 'implanted',
    label: 'Implanted device',
    definition: 'Interrogation of an implanted monitor or pacemaker.',
  },
] as const satisfies readonly [Term, ...Term[]];
export type RecordingKind = CodeOf<typeof RECORDING_KINDS>;

export const RECORDING_SOURCES = [
  { code: 'seen', label: 'Tracing seen', definition: 'Someone of the lab has seen the tracing itself.' },
  { code: 'reported', label: 'Reported', definition: 'Known from a report or letter only.' },
] as const satisfies readonly [Term, ...Term[]];

/** How well a stretch of time was watched, from least to most. The index is the grade. */
export const EVIDENCE_GRADES = [
  { code: 'contact', label: 'Contact only', definition: 'A contact without a recording.' },
  { code: 'ecg', label: 'ECG', definition: 'An ECG or a rhythm strip.' },
  { code: '24h', label: '24 h', definition: 'A recording of 24 h or longer.' },
  { code: '7d', label: '7 days', definition: 'A recording of 7 days or longer.' },
  { code: '14d', label: '14 days', definition: 'A recording of 14 days or longer.' },
  { code: 'continuous', label: 'Continuous', definition: 'An implanted device.' },
] as const satisfies readonly [Term, ...Term[]];
export type EvidenceGrade = CodeOf<typeof EVIDENCE_GRADES>;

export const VISIT_MODES = [
  { code: 'clinic', label: 'Clinic', definition: 'The patient was seen.' },
  { code: 'phone', label: 'Phone', definition: 'The patient was spoken to.' },
  { code: 'letter', label: 'Letter', definition: 'A letter or report of another doctor.' },
  { code: 'device', label: 'Device', definition: 'Remote reading of a device.' },
] as const satisfies readonly [Term, ...Term[]];

export const SYMPTOM_SCORES = [
  { code: '1', label: '1: none', definition: 'No symptoms.' },
  { code: '2a', label: '2a: mild', definition: 'Daily activity unaffected, symptoms not troublesome.' },
  { code: '2b', label: '2b: moderate', definition: 'Daily activity unaffected, symptoms troublesome.' },
  { code: '3', label: '3: severe', definition: 'Daily activity affected.' },
  { code: '4', label: '4: disabling', definition: 'Daily activity stopped.' },
] as const satisfies readonly [Term, ...Term[]];

export const SEXES = [
  { code: 'female', label: 'Female', definition: 'Female.' },
  { code: 'male', label: 'Male', definition: 'Male.' },
  { code: 'unknown', label: 'Not known', definition: 'Not known or not stated.' },
] as const satisfies readonly [Term, ...Term[]];
export type Sex = CodeOf<typeof SEXES>;

export const STEERINGS = [
  { code: 'manual', label: 'Manual', definition: 'Catheter moved by hand.' },
  { code: 'remote', label: 'Remote', definition: 'Catheter moved by a remote system.' },
] as const satisfies readonly [Term, ...Term[]];

export const CARDIOVERSION_KINDS = [
  { code: 'electrical', label: 'Electrical', definition: 'By a shock.' },
  { code: 'pharmacological', label: 'Pharmacological', definition: 'By a drug.' },
] as const satisfies readonly [Term, ...Term[]];

export const ROLES = [
  { code: 'coordinator', label: 'Coordinator', definition: 'Plans and enters follow-up.' },
  {
    code: 'physician',
    label: 'Physician',
    definition: 'Records procedures, reads recordings, compares strategies.',
  },
  { code: 'director', label: 'Lab director', definition: 'Reviews and signs the quarter.' },
  { code: 'administrator', label: 'Administrator', definition: 'People, definitions, schedules, backups.' },
] as const satisfies readonly [Term, ...Term[]];
export type Role = CodeOf<typeof ROLES>;

/** Why a stored value was changed: chosen, not typed, so that no identifier slips into the trail. */
export const AMENDMENT_REASONS = [
  { code: 'typing-error', label: 'Typing error', definition: 'The value was typed wrongly.' },
  {
    code: 'source-corrected',
    label: 'The source was corrected',
    definition: 'The letter, tracing or report itself changed.',
  },
  { code: 'late-information', label: 'Information came late', definition: 'The value was not known before.' },
  {
    code: 'wrong-patient',
    label: 'Entered for the wrong patient',
    definition: 'The value belongs to somebody else.',
  },
] as const satisfies readonly [Term, ...Term[]];

/** How the longest episode of AF ended: with its length, this decides the AF type. */
export const EPISODE_ENDINGS = [
  { code: 'by-itself', label: 'By itself', definition: 'Ended without treatment.' },
  { code: 'drug', label: 'By a drug', definition: 'Pharmacological cardioversion.' },
  { code: 'shock', label: 'By a shock', definition: 'Electrical cardioversion.' },
  { code: 'ablation', label: 'At ablation', definition: 'Still running when the procedure began.' },
  { code: 'unknown', label: 'Not known', definition: 'How it ended is not known.' },
] as const satisfies readonly [Term, ...Term[]];

export const DEATH_CAUSES = [
  {
    code: 'cardiac',
    label: 'Cardiac',
    definition: 'A disease of the heart, including tamponade and sudden death.',
  },
  { code: 'stroke', label: 'Stroke', definition: 'Ischaemic or haemorrhagic stroke.' },
  { code: 'bleeding', label: 'Bleeding', definition: 'Bleeding outside the head.' },
  {
    code: 'fistula',
    label: 'Atrio-oesophageal fistula',
    definition: 'A connection from atrium to oesophagus or its consequences.',
  },
  { code: 'other-vascular', label: 'Other vascular', definition: 'Any other disease of the vessels.' },
  {
    code: 'not-vascular',
    label: 'Not cardiovascular',
    definition: 'Cancer, infection, injury and all else.',
  },
  { code: 'unknown', label: 'Not known', definition: 'The cause is not known.' },
] as const satisfies readonly [Term, ...Term[]];

export const DEATH_RELATIONS = [
  {
    code: 'related',
    label: 'Related to the procedure',
    definition: 'A complication of the procedure led to it.',
  },
  { code: 'possible', label: 'Possibly related', definition: 'Neither shown nor excluded.' },
  { code: 'unrelated', label: 'Not related', definition: 'Another cause is established.' },
  { code: 'unknown', label: 'Not known', definition: 'Nobody has judged it, or it cannot be judged.' },
] as const satisfies readonly [Term, ...Term[]];
