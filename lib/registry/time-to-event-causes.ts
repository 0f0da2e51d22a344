import type { Term } from './vocabulary';

/**
 * How a case's time ended. The index is what `DerivedOutcomes.cause` holds. The causes of an event come first, in the
 * order in which they count within one day: recording (AF before AT/AFL), cardioversion, drug, repeat, death.
 */
export const END_CAUSES = [
  { code: 'recording-af', label: 'AF recorded', definition: 'A recording showed AF that counts.' },
  {
    code: 'recording-at-afl',
    label: 'AT or AFL recorded',
    definition: 'A recording showed AT or AFL that counts.',
  },
  { code: 'cardioversion', label: 'Cardioversion', definition: 'A cardioversion after blanking.' },
  {
    code: 'drug',
    label: 'Class I or III drug',
    definition: 'A class I or III drug was taken against the drug rule.',
  },
  { code: 'repeat', label: 'Repeat ablation', definition: 'The next procedure of the patient.' },
  { code: 'death', label: 'Death', definition: 'Death of any cause.' },
  {
    code: 'censored-last-recording',
    label: 'Free at the last recording',
    definition: 'No event; time ends at the last qualifying recording that found none.',
  },
  {
    code: 'censored-at-repeat',
    label: 'Free until a repeat ablation',
    definition: 'No event; time ends at the last qualifying recording on or before the next procedure.',
  },
  {
    code: 'censored-at-death',
    label: 'Free until death',
    definition: 'No event; time ends at the last qualifying recording on or before death.',
  },
  {
    code: 'censored-drug-status-unknown',
    label: 'Free while the drugs are known',
    definition:
      'No event; time ends at the last qualifying recording on or before the last day the drugs are known.',
  },
] as const satisfies readonly Term[];
export type EndCause = (typeof END_CAUSES)[number]['code'];

/** The index of a cause in END_CAUSES. */
export const CAUSE = {
  recordingAf: 0,
  recordingAtAfl: 1,
  cardioversion: 2,
  drug: 3,
  repeat: 4,
  death: 5,
  lastRecording: 6,
  atRepeat: 7,
  atDeath: 8,
  drugStatusUnknown: 9,
} as const;

/** Why a case has no time under a definition. Every case that is looked at is analysed or has exactly one of these. */
export const EXCLUSION_REASONS = [
  {
    code: 'not-first-procedure',
    label: 'Not the first procedure',
    definition: 'The definition starts at the first procedure of a patient.',
  },
  {
    code: 'not-last-procedure',
    label: 'Not the last procedure',
    definition: 'The definition starts at the last procedure of a patient.',
  },
  {
    code: 'repeat-in-blanking',
    label: 'Repeat ablation during blanking',
    definition: 'A repeat censors, and it came before blanking ended.',
  },
  {
    code: 'death-in-blanking',
    label: 'Death during blanking',
    definition: 'Death censors, and it came before blanking ended.',
  },
  {
    code: 'no-recording-before-repeat',
    label: 'No recording between blanking and the repeat ablation',
    definition: 'No qualifying recording after blanking and on or before the next procedure.',
  },
  {
    code: 'no-recording-before-death',
    label: 'No recording between blanking and death',
    definition: 'No qualifying recording after blanking and on or before death.',
  },
  {
    code: 'drug-status-unknown-after-blanking',
    label: 'Drug status unknown after blanking',
    definition:
      'The drug rule needs to know the drugs, and no qualifying recording falls on days when they are known.',
  },
  {
    code: 'no-recording-after-blanking',
    label: 'No recording after blanking',
    definition: 'No qualifying recording after blanking.',
  },
] as const satisfies readonly Term[];
export type ExclusionReason = (typeof EXCLUSION_REASONS)[number]['code'];
