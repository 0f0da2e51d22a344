import { checkEndpointRules } from './endpoint-contradictions';
import { endpointRuleFields, type EndpointRules as Rules } from './endpoint-rules';

/** What counts as arrhythmia-free, rule by rule. */
export type EndpointRules = Rules;

/**
 * The rules of an endpoint as stored or typed. Besides each field it refuses contradictory rules, all at once, by field
 * and with the reason (endpoint-contradictions.ts), so that a contradictory definition cannot come into being.
 */
export const endpointRulesSchema = endpointRuleFields.superRefine((rules, context) => {
  for (const finding of checkEndpointRules(rules)) {
    if (finding.kind === 'refusal') {
      context.addIssue({ code: 'custom', path: [finding.field], message: finding.message });
    }
  }
});

/** An endpoint definition says what counts as arrhythmia-free. It is versioned, never edited, and printed on every figure. */
export interface EndpointDefinition {
  readonly id: string;
  readonly name: string;
  readonly versionNumber: number;
  /** Day it was made, 'YYYY-MM-DD'. */
  readonly madeOn: string;
  readonly note: string | null;
  readonly rules: EndpointRules;
}
