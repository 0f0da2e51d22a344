import type { Harm } from './complications';
import type { Term } from './vocabulary';

/** What was done. The lists of this file are ours (common practice, no source). */
interface Treatment extends Term {
  /** The harm that this treatment is, by the definition of the harm: one cannot be recorded without the other. */
  readonly impliesHarm: Harm | null;
}

export const TREATMENTS = [
  { code: 'none', label: 'None', definition: 'It was watched, nothing was done.', impliesHarm: null },
  {
    code: 'drugs',
    label: 'Drugs',
    definition: 'Drugs were given, changed or reversed.',
    impliesHarm: null,
  },
  {
    code: 'compression',
    label: 'Compression',
    definition: 'By hand, bandage or ultrasound probe.',
    impliesHarm: null,
  },
  {
    code: 'transfusion',
    label: 'Transfusion',
    definition: 'Blood or blood products.',
    impliesHarm: 'transfusion',
  },
  { code: 'drain', label: 'Drain', definition: 'A fluid was drained.', impliesHarm: 'intervention' },
  {
    code: 'percutaneous',
    label: 'Percutaneous repair',
    definition: 'Thrombin, coil, stent, balloon, thrombectomy.',
    impliesHarm: 'intervention',
  },
  { code: 'surgery', label: 'Surgery', definition: 'An operation.', impliesHarm: 'intervention' },
  {
    code: 'pacemaker',
    label: 'Pacemaker',
    definition: 'A pacemaker was implanted.',
    impliesHarm: 'intervention',
  },
  { code: 'other', label: 'Other', definition: 'Any other treatment.', impliesHarm: null },
] as const satisfies readonly [Treatment, ...Treatment[]];

interface Outcome extends Term {
  /** Nothing more is to be found out: the complication is off the list of those not yet resolved. */
  readonly isFinal: boolean;
}

export const OUTCOMES = [
  {
    code: 'recovered',
    label: 'Recovered',
    definition: 'Nothing is left of it.',
    isFinal: true,
  },
  {
    code: 'recovered-in-part',
    label: 'Recovered in part',
    definition: 'It has ended; something is left that will not heal.',
    isFinal: true,
  },
  {
    code: 'not-recovered',
    label: 'Not recovered yet',
    definition: 'It is still there.',
    isFinal: false,
  },
  {
    code: 'lasting',
    label: 'Lasting',
    definition: 'It is there to stay: no further change is expected.',
    isFinal: true,
  },
  { code: 'fatal', label: 'Fatal', definition: 'The patient died of it.', isFinal: true },
  {
    code: 'unknown',
    label: 'Not known',
    definition: 'Nobody knows yet how it ended.',
    isFinal: false,
  },
] as const satisfies readonly [Outcome, ...Outcome[]];

/** What a complication is put down to. */
export const ATTRIBUTIONS = [
  {
    code: 'energy',
    label: 'Energy delivered',
    definition: 'The lesions themselves, or heat, cold or field.',
  },
  {
    code: 'catheters',
    label: 'Catheters and sheaths',
    definition: 'Handling in the heart, the transseptal puncture included.',
  },
  { code: 'access', label: 'Vascular access', definition: 'The puncture site.' },
  { code: 'anticoagulation', label: 'Anticoagulation', definition: 'Too much, too little or interrupted.' },
  { code: 'anaesthesia', label: 'Anaesthesia', definition: 'Sedation, anaesthesia or airway.' },
  {
    code: 'other-care',
    label: 'Other care around it',
    definition: 'Fluid, contrast, urinary catheter, other drugs.',
  },
  {
    code: 'disease',
    label: 'Underlying disease',
    definition: 'The patient’s disease, not the procedure.',
  },
  { code: 'unknown', label: 'Not known', definition: 'Cannot be said.' },
] as const satisfies readonly [Term, ...Term[]];

/** What the second person found. */
export const VERDICTS = [
  { code: 'confirmed', label: 'Confirmed', definition: 'It was as reported.' },
  {
    code: 'reclassified',
    label: 'Reclassified',
    definition: 'It was a complication, but another one, of another day, harm or severity.',
  },
  { code: 'refuted', label: 'Refuted', definition: 'It was no complication of this procedure.' },
] as const satisfies readonly [Term, ...Term[]];
export type Verdict = (typeof VERDICTS)[number]['code'];

/** Why an entry should never have been made. */
export const VOID_REASONS = [
  {
    code: 'wrong-patient',
    label: 'Entered for the wrong patient',
    definition: 'It belongs to somebody else.',
  },
  { code: 'entered-twice', label: 'Entered twice', definition: 'The same event is recorded already.' },
  { code: 'not-meant', label: 'Entered by mistake', definition: 'Nothing of the kind happened.' },
] as const satisfies readonly [Term, ...Term[]];
