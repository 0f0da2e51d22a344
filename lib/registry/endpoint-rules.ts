import { z } from 'zod';

/**
 * The rules of an endpoint, each by itself. Code that reads stored or typed rules parses with `endpointRulesSchema`
 * (endpoint-definition.ts), which also refuses rules that contradict each other.
 */
export const endpointRuleFields = z.strictObject({
  /** Which procedure opens the clock. */
  start: z.enum(
    ['first-procedure', 'last-procedure', 'each-procedure'],
    'Choose which procedure starts the clock.',
  ),
  blankingDays: z
    .int('Blanking is a whole number of days.')
    .min(0, 'Blanking cannot be shorter than 0 days.')
    .max(365, 'Blanking cannot be longer than 365 days.'),
  /** True: days <= blankingDays are blanked; false: days < blankingDays. */
  blankingEndInclusive: z.boolean('Say whether the last day of blanking is itself blanked.'),
  minimumSeconds: z
    .int('The minimum length of an episode is a whole number of seconds.')
    .min(0, 'The minimum length of an episode cannot be shorter than 0 s.')
    .max(86_400, 'The minimum length of an episode cannot be longer than 86,400 s (24 h).'),
  comparator: z.enum(
    ['at-least', 'more-than'],
    'Say whether an episode of exactly the minimum length counts.',
  ),
  /** A tracing that the arrhythmia fills from end to end counts whatever its length. */
  wholeTracingCounts: z.boolean(
    'Say whether an arrhythmia that fills the whole tracing counts whatever its length.',
  ),
  rhythms: z.enum(['af', 'af-at-afl'], 'Choose which rhythms count.'),
  /** Confirmed isolated typical flutter does not count. */
  confirmedTypicalFlutterExempt: z.boolean('Say whether confirmed isolated typical flutter is exempt.'),
  symptomaticOnly: z.boolean('Say whether only symptomatic recurrences count.'),
  drugRule: z.enum(
    ['ignored', 'resumption-is-failure', 'must-be-off'],
    'Choose a rule for class I and III drugs.',
  ),
  repeatRule: z.enum(['failure', 'censoring', 'new-start'], 'Choose what a repeat ablation means.'),
  cardioversionCounts: z.boolean('Say whether a cardioversion counts.'),
  deathRule: z.enum(['censoring', 'failure', 'competing'], 'Choose what death means.'),
  /** The least evidence that extends the time free of arrhythmia. */
  evidenceForFreedom: z.enum(
    ['ecg', '24h', '7d', '14d', 'continuous'],
    'Choose the least evidence that counts as free of arrhythmia.',
  ),
});

export type EndpointRules = z.infer<typeof endpointRuleFields>;
