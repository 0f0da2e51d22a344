import { type CaseSet, casesInSet, parseCaseSet } from '@/lib/analysis/outcomes/case-set';
import { analyseOutcomes, type OutcomesAnalysis } from '@/lib/analysis/outcomes/outcomes-analysis';
import { readOutcomesQuery, type SearchParams } from '@/lib/analysis/outcomes/outcomes-query';
import { type OutcomesView, outcomesView } from '@/lib/analysis/outcomes/outcomes-view';
import { type OutcomesQuestion, putQuestion } from '@/lib/analysis/outcomes/question';
import type { Cohort } from '@/lib/registry/cohort';
import type { EndpointRules } from '@/lib/registry/endpoint-definition';
import { definitionOf, PLAIN_RULES } from './outcomes-cohort';

export interface Answer {
  readonly question: OutcomesQuestion;
  readonly analysis: OutcomesAnalysis;
  readonly view: OutcomesView;
}

/** From an address to the page's answer, as the page goes. */
export function answer(
  cohort: Cohort,
  params: SearchParams = {},
  rules: EndpointRules = PLAIN_RULES,
): Answer {
  const { question, findings } = putQuestion(readOutcomesQuery(params), [definitionOf(rules)]);
  if (!question) throw new Error(`refused: ${findings.map(({ message }) => message).join(' ')}`);
  const { filter, grouping } = question.query;
  const analysis = analyseOutcomes(cohort, question.rules, filter, grouping);
  return { question, analysis, view: outcomesView(question, analysis, '2026-11-25') };
}

export function paramsOf(href: string): Record<string, string> {
  return Object.fromEntries(new URL(href, 'http://localhost').searchParams);
}

/** The cases that an address opens, starting from the address alone. */
export function opened(cohort: Cohort, href: string, rules: EndpointRules = PLAIN_RULES): Int32Array {
  const params = paramsOf(href);
  const set: CaseSet | undefined = parseCaseSet(params.set ?? '');
  const cases = set && casesInSet(answer(cohort, params, rules).analysis, set, params.of);
  if (!cases) throw new Error(`opens nothing: ${href}`);
  return cases;
}
