import { checkEndpointRules } from '../../registry/endpoint-contradictions';
import type { EndpointDefinition } from '../../registry/endpoint-definition';
import type { EndpointRules } from '../../registry/endpoint-rules';
import { describeRules } from '../../registry/endpoint-sentence';
import { type Finding, isRefused, refusal } from '../../registry/findings';
import { formatDay } from './numbers-in-words';
import { type OutcomesQuery, type ReadQuery, RULE_PARAMS, type RulesVariation } from './outcomes-query';

/** An answerable question: the rules that hold, and how they are named on a figure. */
export interface OutcomesQuestion {
  readonly definition: EndpointDefinition;
  readonly rules: EndpointRules;
  /** True when the address varies the stored rules. */
  readonly varied: boolean;
  /** 'Consensus 2017', 'Variation of Consensus 2017, not a stored version'. */
  readonly name: string;
  /** 'version 3 of 24 Nov 2026'. */
  readonly version: string;
  /** The rules in words. */
  readonly sentence: string;
  /** The query with only real differences in its variation. */
  readonly query: OutcomesQuery;
}

export interface PutQuestion {
  /** Undefined when a finding refuses it or the lab has no definition. */
  readonly question: OutcomesQuestion | undefined;
  /** The definition chosen, also when its variation is refused. */
  readonly definition: EndpointDefinition | undefined;
  /** Fields are names of parameters. */
  readonly findings: readonly Finding[];
}

/** Joins what the address asks with the lab's definitions. Contradictory rules are refused with the reason; nothing chosen is lost. */
export function putQuestion(read: ReadQuery, definitions: readonly EndpointDefinition[]): PutQuestion {
  const { definitionId } = read.query;
  const findings: Finding[] = [...read.findings];
  const definition =
    definitionId === undefined ? definitions[0] : definitions.find(({ id }) => id === definitionId);
  if (!definition) {
    if (definitionId !== undefined && definitions.length > 0) {
      findings.push(
        refusal(
          'definition',
          'The lab has no endpoint definition at this address: it is an older version or never existed. Choose one of the list.',
        ),
      );
    }
    return { question: undefined, definition, findings };
  }
  const variation = realDifferences(definition.rules, read.query.variation);
  const rules: EndpointRules = { ...definition.rules, ...variation };
  for (const finding of checkEndpointRules(rules)) {
    findings.push({ ...finding, field: paramOfRule(finding.field) });
  }
  if (isRefused(findings)) return { question: undefined, definition, findings };
  const varied = Object.keys(variation).length > 0;
  return {
    question: {
      definition,
      rules,
      varied,
      name: varied ? `Variation of ${definition.name}, not a stored version` : definition.name,
      version: `version ${definition.versionNumber} of ${formatDay(definition.madeOn)}`,
      sentence: describeRules(rules),
      query: { ...read.query, definitionId: definition.id, variation },
    },
    definition,
    findings,
  };
}

function realDifferences(stored: EndpointRules, variation: RulesVariation): RulesVariation {
  const different: Record<string, unknown> = {};
  for (const [key, value] of Object.entries(variation)) {
    if (isRuleKey(key) && stored[key] !== value) different[key] = value;
  }
  return different;
}

const isRuleKey = (key: string): key is keyof EndpointRules => key in RULE_PARAMS;

const paramOfRule = (field: string): string => (isRuleKey(field) ? RULE_PARAMS[field] : field);
