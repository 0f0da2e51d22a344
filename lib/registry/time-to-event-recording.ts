import type { EndpointRules } from './endpoint-rules';
import { gradeIndexOf, isSymptomatic, isWholeTracing, rhythmIndexOf } from './rhythm-evidence';
import { EVIDENCE_GRADES, RHYTHMS, type Rhythm } from './vocabulary';

/**
 * What one recording says about an endpoint. Positive: it shows what the definition counts. Negative: it does not, and
 * it is good enough to count as freedom. Nothing: it does not show it but is too weak an evidence of freedom, or it
 * shows a counted rhythm of unknown length in part of the tracing, which may or may not have been long enough.
 */
export const VERDICT = { nothing: 0, negative: 1, positive: 2 } as const;
export type Verdict = (typeof VERDICT)[keyof typeof VERDICT];

/** The part of a definition that judges recordings, in integers. */
export interface RecordingTest {
  /** Bit i is set when RHYTHMS[i] counts. */
  readonly countedRhythms: number;
  /** Shortest episode that counts, in whole seconds: "more than 30 s" is 31. 0: any length, even an unknown one. */
  readonly leastSeconds: number;
  readonly wholeTracingCounts: boolean;
  readonly symptomaticOnly: boolean;
  /** Lowest index into EVIDENCE_GRADES that shows freedom. */
  readonly leastGrade: number;
}

const COUNTED: Readonly<Record<EndpointRules['rhythms'], readonly Rhythm[]>> = {
  af: ['af'],
  'af-at-afl': ['af', 'at', 'afl-atypical', 'afl-typical', 'afl-typical-confirmed'],
};

/** The rhythms that a definition counts. */
function countedRhythms(rules: EndpointRules): readonly Rhythm[] {
  return COUNTED[rules.rhythms].filter(
    (rhythm) => !(rules.confirmedTypicalFlutterExempt && rhythm === 'afl-typical-confirmed'),
  );
}

/** Prepares the judgement of recordings once per derivation. */
export function recordingTestOf(rules: EndpointRules): RecordingTest {
  const counted = countedRhythms(rules);
  return {
    countedRhythms: RHYTHMS.reduce(
      (bits, term, index) => (counted.includes(term.code) ? bits | (1 << index) : bits),
      0,
    ),
    leastSeconds: rules.comparator === 'at-least' ? rules.minimumSeconds : rules.minimumSeconds + 1,
    wholeTracingCounts: rules.wholeTracingCounts,
    symptomaticOnly: rules.symptomaticOnly,
    leastGrade: EVIDENCE_GRADES.findIndex((term) => term.code === rules.evidenceForFreedom),
  };
}

/** Judges a packed recording: its code and its longest episode in seconds, -1 when unknown (rhythm-evidence.ts). */
export function judgeRecording(test: RecordingTest, code: number, seconds: number): Verdict {
  if (
    ((test.countedRhythms >> rhythmIndexOf(code)) & 1) === 1 &&
    (!test.symptomaticOnly || isSymptomatic(code))
  ) {
    if (seconds >= test.leastSeconds || test.leastSeconds === 0) return VERDICT.positive;
    if (test.wholeTracingCounts && isWholeTracing(code)) return VERDICT.positive;
    if (seconds < 0) return VERDICT.nothing;
  }
  return gradeIndexOf(code) >= test.leastGrade ? VERDICT.negative : VERDICT.nothing;
}
