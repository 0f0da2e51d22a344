import { z } from 'zod';

/** An endpoint definition says what counts as arrhythmia-free. It is versioned, never edited, and printed on every figure. */
export const endpointRulesSchema = z.strictObject({
  /** Which procedure opens the clock. */
  start: z.enum(['first-procedure', 'last-procedure', 'each-procedure']),
  blankingDays: z.int().min(0).max(365),
  /** True: days <= blankingDays are blanked; false: days < blankingDays. */
  blankingEndInclusive: z.boolean(),
  minimumSeconds: z.int().min(0).max(86_400),
  comparator: z.enum(['at-least', 'more-than']),
  /** A tracing that the arrhythmia fills from end to end counts whatever its length. */
  wholeTracingCounts: z.boolean(),
  rhythms: z.enum(['af', 'af-at-afl']),
  /** Confirmed isolated typical flutter does not count. */
  confirmedTypicalFlutterExempt: z.boolean(),
  symptomaticOnly: z.boolean(),
  drugRule: z.enum(['ignored', 'resumption-is-failure', 'must-be-off']),
  repeatRule: z.enum(['failure', 'censoring', 'new-start']),
  cardioversionCounts: z.boolean(),
  deathRule: z.enum(['censoring', 'failure', 'competing']),
  /** The least evidence that extends the time free of arrhythmia. */
  evidenceForFreedom: z.enum(['ecg', '24h', '7d', '14d', 'continuous']),
});
export type EndpointRules = z.infer<typeof endpointRulesSchema>;

export interface EndpointDefinition {
  readonly id: string;
  readonly name: string;
  readonly versionNumber: number;
  /** Day it was made, 'YYYY-MM-DD'. */
  readonly madeOn: string;
  readonly note: string | null;
  readonly rules: EndpointRules;
}
