import type { Term } from './vocabulary';

/** How far a case has come. Visits, complications and recordings stay open in every state. */
export const CASE_STATES = [
  { code: 'draft', label: 'Draft', definition: 'Begun; something that every case needs is missing.' },
  { code: 'entered', label: 'Entered', definition: 'Baseline, procedure and lesion set are all there.' },
  {
    code: 'signed',
    label: 'Signed',
    definition: 'A physician answers for baseline, procedure and lesion set; changes are amendments.',
  },
] as const satisfies readonly [Term, ...Term[]];
export type CaseState = (typeof CASE_STATES)[number]['code'];

/** Where a missing thing is entered: a form of the case and the field in it. */
export interface MissingItem {
  readonly what: string;
  readonly part: 'procedure' | 'lesions';
  /** Path of the field in the form; '' for the form as a whole. */
  readonly field: string;
}

/** What the states look at, as stored. */
export interface CaseCompleteness {
  readonly state: CaseState;
  /** Values of the procedure's form by path; '' is missing. */
  readonly values: Readonly<Record<string, string>>;
  readonly lesions: {
    readonly elements: number;
    readonly notRecorded: number;
    readonly entranceBlock: string | null;
    readonly isSingleShot: boolean;
  };
  readonly strategy: {
    readonly intended: string | null;
    /** Null or 'not-derivable' when the lesions do not tell. */
    readonly derived: string | null;
    readonly settled: string | null;
  };
}

/** Fields that every case needs, in the order of the form, with the words that name them. Ours (common practice, no source). */
const NEEDED: readonly (readonly [field: string, what: string])[] = [
  ['ageYears', 'Age at the procedure'],
  ['operatorId', 'Operator'],
  ['indication', 'Indication'],
  ['intendedStrategy', 'Intended strategy'],
  ['anticoagulation', 'Anticoagulation around the procedure'],
  ['thrombusExclusion', 'How thrombus was excluded'],
  ['rhythmAtStart', 'Rhythm at the start'],
  ['rhythmAtEnd', 'Rhythm at the end'],
  ['procedureMinutes', 'Procedure time'],
  ['baseline.afType', 'AF type'],
  ['baseline.legalBasis', 'Legal basis'],
  ['baseline.lvefPct', 'LVEF'],
];

/** What is missing before a case counts as entered; empty when nothing is. An aborted procedure needs no lesion set. */
export function missingForEntered({ values, lesions }: CaseCompleteness): MissingItem[] {
  const has = (field: string) => (values[field] ?? '') !== '';
  const missing = NEEDED.filter(([field]) => !has(field)).map(
    ([field, what]): MissingItem => ({ what, part: 'procedure', field }),
  );
  if (!has('baseline.laDiameterMm') && !has('baseline.laVolumeIndexMlM2')) {
    missing.push({ what: 'Left atrial size', part: 'procedure', field: 'baseline.laDiameterMm' });
  }
  if (has('abortedReason')) return missing;
  if (lesions.elements === 0 && !lesions.isSingleShot) {
    missing.push({ what: 'Lesion set', part: 'lesions', field: '' });
  }
  if (lesions.entranceBlock === null) {
    missing.push({ what: 'Acute endpoint: entrance block', part: 'lesions', field: 'entranceBlock' });
  }
  return missing;
}

/** What is missing before a physician can sign, besides what every entered case has. */
export function missingForSigned(facts: CaseCompleteness): MissingItem[] {
  const { values, lesions, strategy } = facts;
  const missing = missingForEntered(facts);
  if ((values.dischargedOn ?? '') === '') {
    missing.push({ what: 'Day of discharge', part: 'procedure', field: 'dischargedOn' });
  }
  if (lesions.notRecorded > 0) {
    const segments = lesions.notRecorded === 1 ? '1 segment' : `${lesions.notRecorded} segments`;
    missing.push({ what: `${segments} of the lesion set not recorded`, part: 'lesions', field: '' });
  }
  if (isDisagreement(strategy)) {
    missing.push({
      what: 'Label and lesions name different strategies: settle which holds',
      part: 'lesions',
      field: 'settledStrategy',
    });
  }
  return missing;
}

/** True while the operator's label and the derived strategy differ and nobody has settled which holds. */
export function isDisagreement({ intended, derived, settled }: CaseCompleteness['strategy']): boolean {
  if (settled !== null || intended === null || derived === null || derived === 'not-derivable') return false;
  return intended !== derived;
}

/** The next state and what stands in its way; null once signed. */
export function nextStateOf(
  facts: CaseCompleteness,
): { readonly next: Exclude<CaseState, 'draft'>; readonly missing: readonly MissingItem[] } | null {
  if (facts.state === 'signed') return null;
  return facts.state === 'draft'
    ? { next: 'entered', missing: missingForEntered(facts) }
    : { next: 'signed', missing: missingForSigned(facts) };
}
