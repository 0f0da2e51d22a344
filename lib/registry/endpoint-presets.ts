import type { EndpointRules } from './endpoint-rules';

/** A definition to begin with. `code` is for looking it up; name, note and rules are copied when a lab takes it. */
export interface EndpointPreset {
  readonly code: string;
  readonly name: string;
  readonly note: string;
  readonly rules: EndpointRules;
}

/**
 * The headline endpoint of the 2017 consensus statement. What it leaves open, and what we chose, is in the preset's note.
 */
const CONSENSUS: EndpointRules = {
  start: 'first-procedure',
  blankingDays: 90,
  blankingEndInclusive: true,
  minimumSeconds: 30,
  comparator: 'at-least',
  wholeTracingCounts: true,
  rhythms: 'af-at-afl',
  confirmedTypicalFlutterExempt: false,
  symptomaticOnly: false,
  drugRule: 'must-be-off',
  repeatRule: 'failure',
  cardioversionCounts: false,
  deathRule: 'censoring',
  evidenceForFreedom: 'ecg',
};

/** Each preset but the first changes one thing of it, so that two curves differ for one reason. */
export const ENDPOINT_PRESETS: readonly EndpointPreset[] = [
  {
    code: 'consensus-2017',
    name: 'Consensus 2017',
    note:
      'Headline endpoint of the 2017 consensus statement: freedom from any AF, AT or AFL of 30 s or more, off class I and III drugs, after one procedure and three months of blanking. ' +
      'The statement says both "at least" and "more than" 30 s; its table, "at least", is taken. ' +
      'Chosen here, because the passages we know do not settle it: a repeat ablation is a failure, death censors, confirmed typical flutter counts, any ECG shows freedom.',
    rules: CONSENSUS,
  },
  {
    code: 'blanking-8-weeks',
    name: 'Blanking of 8 weeks',
    note: 'As Consensus 2017 with 56 days of blanking, said to be the 2024 consensus. From memory, confirm before citing.',
    rules: { ...CONSENSUS, blankingDays: 56 },
  },
  {
    code: 'af-alone',
    name: 'AF alone',
    note: 'As Consensus 2017, counting AF only: AT and AFL are neither recurrence nor reason to stop. To be read beside the count of all three.',
    rules: { ...CONSENSUS, rhythms: 'af' },
  },
  {
    code: 'on-or-off-drugs',
    name: 'Any AF, AT or AFL, drugs ignored',
    note: 'As Consensus 2017, on or off class I and III drugs: what is taken does not matter and need not be known.',
    rules: { ...CONSENSUS, drugRule: 'ignored' },
  },
  {
    code: 'multiple-procedures',
    name: 'Multiple procedures',
    note: "As Consensus 2017, from each patient's last procedure, which has its own blanking. Which procedure is the last is known only afterwards: patients who failed and were treated again count from their latest procedure only.",
    rules: { ...CONSENSUS, start: 'last-procedure', repeatRule: 'new-start' },
  },
  {
    code: 'symptomatic',
    name: 'Symptomatic recurrence',
    note: 'As Consensus 2017, counting only recurrences with symptoms. Ablation makes AF less noticeable, so this flatters.',
    rules: { ...CONSENSUS, symptomaticOnly: true },
  },
];
