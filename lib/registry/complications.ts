import type { Term } from './vocabulary';

/** What happened to the patient because of a complication, as far as severity depends on it. */
export const HARMS = [
  { code: 'death', label: 'Death', definition: 'The patient died of it.' },
  {
    code: 'permanent-injury',
    label: 'Permanent injury',
    definition: 'Something is left that will not heal.',
  },
  {
    code: 'intervention',
    label: 'Intervention',
    definition: 'It was treated by a procedure: drain, surgery, repair, stent.',
  },
  {
    code: 'stay-over-48h',
    label: 'Hospital more than 48 h',
    definition: 'It prolonged the stay, or needed one, of more than 48 h.',
  },
  {
    code: 'readmission',
    label: 'Readmission',
    definition: 'The patient was admitted again for it, however long.',
  },
  {
    code: 'transfusion',
    label: 'Transfusion',
    definition: 'Blood was given, or the haematocrit fell by 20 % or more.',
  },
  { code: 'over-30-days', label: 'More than 30 days', definition: 'It lasted longer than 30 days.' },
] as const satisfies readonly [Term, ...Term[]];
export type Harm = (typeof HARMS)[number]['code'];

/** Any of these makes a complication major, whatever its type (2017 consensus; from memory). */
export const MAJOR_HARMS: readonly Harm[] = ['death', 'permanent-injury', 'intervention', 'stay-over-48h'];

export type SeverityRule =
  /** Major or minor by nature; for 'minor', harm makes no difference. */
  | { readonly kind: 'always'; readonly severity: 'major' | 'minor' }
  /** Major with one of `MAJOR_HARMS` or `also`, else minor. */
  | { readonly kind: 'by-harm'; readonly also: readonly Harm[] };

export interface ComplicationType extends Term {
  readonly severityRule: SeverityRule;
  /** Days after the procedure within which it is usually sought: a later onset is questioned, never refused. */
  readonly usualWindowDays: { readonly from: number; readonly to: number };
  /** Looked for long after the procedure too (anticoagulation goes on): a late one is recorded and marked late, not questioned. */
  readonly isFollowedLate?: true;
  /** Null where no code is known to fit. */
  readonly icd10: { readonly code: string; readonly fromMemory: true } | null;
}

const MAJOR: SeverityRule = { kind: 'always', severity: 'major' };
const byHarm = (...also: Harm[]): SeverityRule => ({ kind: 'by-harm', also });
const icd = (code: string) => ({ code, fromMemory: true }) as const;
const days = (from: number, to: number) => ({ from, to });

/**
 * The complications of ablation, one entry each: forms, tables and rates follow from this list. Definitions and windows
 * follow the 2017 consensus from memory, in our words; ICD-10 codes are from memory and are to be confirmed before use.
 */
export const COMPLICATION_TYPES = [
  {
    code: 'death',
    label: 'Death related to the procedure',
    definition: 'Death that the procedure or one of its complications led to.',
    severityRule: MAJOR,
    usualWindowDays: days(0, 90),
    icd10: null,
  },
  {
    code: 'tamponade',
    label: 'Tamponade or significant effusion',
    definition: 'Effusion with compromise of the circulation, or drained, or at least 1 cm on echo.',
    severityRule: MAJOR,
    usualWindowDays: days(0, 30),
    icd10: icd('I31.4'),
  },
  {
    code: 'effusion-minor',
    label: 'Small effusion',
    definition: 'Effusion under 1 cm on echo, without compromise, not drained.',
    severityRule: byHarm(),
    usualWindowDays: days(0, 30),
    icd10: icd('I31.3'),
  },
  {
    code: 'stroke',
    label: 'Stroke',
    definition: 'Deficit of at least 24 h, or shorter with intervention, positive imaging or death.',
    severityRule: MAJOR,
    usualWindowDays: days(0, 30),
    isFollowedLate: true,
    icd10: icd('I63.9'),
  },
  {
    code: 'tia',
    label: 'TIA',
    definition: 'Deficit of less than 24 h without necrosis on imaging.',
    severityRule: byHarm('readmission'),
    usualWindowDays: days(0, 30),
    isFollowedLate: true,
    icd10: icd('G45.9'),
  },
  {
    code: 'silent-emboli',
    label: 'Asymptomatic cerebral emboli',
    definition: 'New lesions on diffusion-weighted imaging without symptoms.',
    severityRule: { kind: 'always', severity: 'minor' },
    usualWindowDays: days(0, 30),
    icd10: null,
  },
  {
    code: 'systemic-embolism',
    label: 'Systemic embolism',
    definition: 'Arterial embolism outside the head.',
    severityRule: byHarm('readmission'),
    usualWindowDays: days(0, 30),
    icd10: icd('I74.9'),
  },
  {
    code: 'air-embolism',
    label: 'Air embolism',
    definition: 'Air in the coronary or cerebral arteries with symptoms or ECG changes.',
    severityRule: byHarm(),
    usualWindowDays: days(0, 1),
    icd10: icd('T80.0'),
  },
  {
    code: 'myocardial-infarction',
    label: 'Myocardial infarction',
    definition: 'Infarction by the universal definition.',
    severityRule: MAJOR,
    usualWindowDays: days(0, 30),
    icd10: icd('I21.9'),
  },
  {
    code: 'coronary-spasm',
    label: 'Coronary spasm',
    definition: 'Transient spasm of a coronary artery, seen with pulsed field near the vessel.',
    severityRule: byHarm(),
    usualWindowDays: days(0, 1),
    icd10: icd('I20.1'),
  },
  {
    code: 'atrio-oesophageal-fistula',
    label: 'Atrio-oesophageal fistula',
    definition: 'A connection from atrium to oesophageal lumen, by imaging or surgery.',
    severityRule: MAJOR,
    usualWindowDays: days(0, 90),
    icd10: null,
  },
  {
    code: 'oesophageal-perforation',
    label: 'Oesophageal perforation',
    definition: 'Perforation of the oesophagus without a connection to the atrium.',
    severityRule: MAJOR,
    usualWindowDays: days(0, 90),
    icd10: icd('K22.3'),
  },
  {
    code: 'oesophageal-lesion',
    label: 'Oesophageal erosion or ulcer',
    definition: 'A lesion of the mucosa at endoscopy.',
    severityRule: { kind: 'always', severity: 'minor' },
    usualWindowDays: days(0, 30),
    icd10: icd('K22.1'),
  },
  {
    code: 'gastric-hypomotility',
    label: 'Gastric hypomotility or vagal injury',
    definition: 'Delayed emptying of the stomach or bowel after injury of vagal branches.',
    severityRule: byHarm('readmission', 'over-30-days'),
    usualWindowDays: days(0, 90),
    icd10: icd('K31.8'),
  },
  {
    code: 'phrenic-paralysis',
    label: 'Phrenic paralysis',
    definition: 'No movement of the diaphragm at a sniff test; permanent when it lasts 12 months.',
    severityRule: byHarm(),
    usualWindowDays: days(0, 90),
    icd10: icd('J98.6'),
  },
  {
    code: 'pv-stenosis-severe',
    label: 'Pulmonary vein stenosis, severe',
    definition: 'Diameter reduced by 70 % or more.',
    severityRule: MAJOR,
    usualWindowDays: days(7, 365),
    icd10: null,
  },
  {
    code: 'pv-stenosis',
    label: 'Pulmonary vein stenosis, mild or moderate',
    definition: 'Diameter reduced by less than 70 % (mild under 50 %).',
    severityRule: byHarm(),
    usualWindowDays: days(7, 365),
    icd10: null,
  },
  {
    code: 'pericarditis',
    label: 'Pericarditis',
    definition: 'Typical pain, rub or ECG changes after the first hours.',
    severityRule: byHarm('readmission', 'over-30-days'),
    usualWindowDays: days(0, 90),
    icd10: icd('I30.9'),
  },
  {
    code: 'haematoma',
    label: 'Groin haematoma',
    definition: 'Swelling by blood at the puncture site.',
    severityRule: byHarm('transfusion', 'readmission'),
    usualWindowDays: days(0, 30),
    icd10: icd('T81.0'),
  },
  {
    code: 'pseudo-aneurysm',
    label: 'Pseudo-aneurysm',
    definition: 'Pseudo-aneurysm at the puncture site, by ultrasound.',
    severityRule: byHarm('transfusion', 'readmission'),
    usualWindowDays: days(0, 30),
    icd10: icd('I72.4'),
  },
  {
    code: 'av-fistula',
    label: 'Arteriovenous fistula',
    definition: 'Fistula at the puncture site, by ultrasound.',
    severityRule: byHarm('transfusion', 'readmission'),
    usualWindowDays: days(0, 90),
    icd10: icd('I77.0'),
  },
  {
    code: 'bleeding-other',
    label: 'Other bleeding',
    definition: 'Bleeding elsewhere, such as retroperitoneal.',
    severityRule: byHarm('transfusion', 'readmission'),
    usualWindowDays: days(0, 30),
    isFollowedLate: true,
    icd10: null,
  },
  {
    code: 'mitral-entrapment',
    label: 'Mitral entrapment',
    definition: 'A catheter caught in the mitral valve or its chordae.',
    severityRule: byHarm(),
    usualWindowDays: days(0, 1),
    icd10: null,
  },
  {
    code: 'heart-block',
    label: 'Heart block',
    definition: 'Lasting atrioventricular block that was not there before.',
    severityRule: byHarm(),
    usualWindowDays: days(0, 7),
    icd10: icd('I44.2'),
  },
  {
    code: 'volume-overload',
    label: 'Volume overload',
    definition: 'Heart failure or lung oedema from fluid given at the procedure.',
    severityRule: byHarm('readmission'),
    usualWindowDays: days(0, 7),
    icd10: icd('E87.7'),
  },
  {
    code: 'kidney-injury',
    label: 'Acute kidney injury',
    definition: 'New kidney injury, such as from contrast or haemolysis.',
    severityRule: byHarm('readmission'),
    usualWindowDays: days(0, 30),
    icd10: icd('N17.9'),
  },
  {
    code: 'haemolysis',
    label: 'Haemolysis',
    definition: 'Haemolysis with signs or laboratory values, seen with many pulsed-field applications.',
    severityRule: byHarm('readmission', 'transfusion'),
    usualWindowDays: days(0, 7),
    icd10: null,
  },
  {
    code: 'venous-thrombosis',
    label: 'Venous thrombosis or pulmonary embolism',
    definition: 'Thrombosis of a deep vein, or embolism from it.',
    severityRule: byHarm('readmission'),
    usualWindowDays: days(0, 30),
    icd10: icd('I80.2'),
  },
  {
    code: 'infection',
    label: 'Infection',
    definition: 'Pneumonia, sepsis or infection of the puncture site.',
    severityRule: byHarm('readmission'),
    usualWindowDays: days(0, 30),
    icd10: null,
  },
  {
    code: 'anaesthesia',
    label: 'Complication of anaesthesia',
    definition: 'Aspiration, airway injury or reaction to a drug of sedation or anaesthesia.',
    severityRule: byHarm('readmission'),
    usualWindowDays: days(0, 7),
    icd10: icd('T88.5'),
  },
  {
    code: 'arrhythmia-admission',
    label: 'Admission for early arrhythmia',
    definition: 'Recurrence within three months that led to admission; never a major complication.',
    severityRule: { kind: 'always', severity: 'minor' },
    usualWindowDays: days(0, 91),
    icd10: null,
  },
  {
    code: 'other',
    label: 'Other complication',
    definition: 'Any other harm related to the procedure.',
    severityRule: byHarm('readmission'),
    usualWindowDays: days(0, 90),
    icd10: null,
  },
] as const satisfies readonly [ComplicationType, ...ComplicationType[]];
export type ComplicationCode = (typeof COMPLICATION_TYPES)[number]['code'];

export const SEVERITIES = [
  {
    code: 'major',
    label: 'Major',
    definition: 'Death, permanent injury, intervention, or more than 48 h in hospital.',
  },
  { code: 'minor', label: 'Minor', definition: 'Anything less.' },
] as const satisfies readonly [Term, ...Term[]];
export type Severity = (typeof SEVERITIES)[number]['code'];

/** The entry of a code, as stored or typed; undefined for a code that is not in the list. */
export function complicationType(code: string): ComplicationType | undefined {
  return COMPLICATION_TYPES.find((type) => type.code === code);
}

/** The severity that the rule of a type suggests from the harm, with the reason in words; a person may decide otherwise. */
export function severityOf(
  code: ComplicationCode,
  harms: readonly Harm[],
): { readonly severity: Severity; readonly reason: string } {
  const type = complicationType(code);
  // The parameter's type admits codes of the list only; this says so should untyped data ever arrive.
  if (!type) throw new RangeError(`no complication of this code: ${code}`);
  const rule: SeverityRule = type.severityRule;
  if (rule.kind === 'always') {
    return { severity: rule.severity, reason: `${type.label} is ${rule.severity} by definition.` };
  }
  const decisive = HARMS.filter(
    (harm) => harms.includes(harm.code) && [...MAJOR_HARMS, ...rule.also].includes(harm.code),
  );
  return decisive.length > 0
    ? { severity: 'major', reason: `Major: ${decisive.map((harm) => harm.label.toLowerCase()).join(', ')}.` }
    : { severity: 'minor', reason: 'Minor: no harm that makes this complication major is recorded.' };
}

/** True when an onset so many days after the procedure lies in the window in which this type is usually sought. */
export function isUsualOnset(code: ComplicationCode, daysAfter: number): boolean {
  const window = complicationType(code)?.usualWindowDays;
  return window !== undefined && daysAfter >= window.from && daysAfter <= window.to;
}
