import { type CaseSet, caseSetText } from './case-set';
import { type OutcomesQuery, queryParams } from './outcomes-query';

/** Estimates whose list says the number it stands behind. */
export const ESTIMATES = ['twelve-months', 'median'] as const;
export type EstimateName = (typeof ESTIMATES)[number];

/** The address of the page itself. */
export function outcomesHref(query: OutcomesQuery): string {
  return withParams('/outcomes', queryParams(query));
}

/** The address of exactly the cases behind a count, or behind an estimate when one is named. */
export function casesHref(
  query: OutcomesQuery,
  set: CaseSet,
  scope?: string | undefined,
  behind?: EstimateName,
): string {
  const params = queryParams(query);
  params.set('set', caseSetText(set));
  if (scope !== undefined) params.set('of', scope);
  if (behind !== undefined) params.set('behind', behind);
  return withParams('/outcomes/cases', params);
}

/** Colons stay readable: they need no escape in a query. */
function withParams(path: string, params: URLSearchParams): string {
  const text = params.toString().replaceAll('%3A', ':');
  return text === '' ? path : `${path}?${text}`;
}
