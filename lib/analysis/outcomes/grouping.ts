import type { Cohort, CohortColumn } from '../../registry/cohort';
import { AF_TYPES, DERIVED_STRATEGIES, labelOf, STRATEGIES, type Term } from '../../registry/vocabulary';

/** By what the cases are parted. */
export const GROUPINGS = [
  { code: 'none', label: 'All cases together', definition: 'One curve.' },
  {
    code: 'derived-strategy',
    label: 'Strategy derived from the lesions',
    definition: 'What the recorded lesions show.',
  },
  { code: 'intended-strategy', label: 'Strategy as labelled', definition: 'What the operator named.' },
  { code: 'af-type', label: 'AF type', definition: 'AF type at the procedure.' },
  { code: 'cohort-tag', label: 'Cohort tag', definition: 'Tag given at import.' },
] as const satisfies readonly Term[];
export type Grouping = (typeof GROUPINGS)[number]['code'];

/** More curves than this cannot be told apart. */
const MOST_GROUPS = 5;

/** Scopes: a group (scopeOfGroup), the cases without a recorded value, and the groups beyond the five drawn. */
export const NOT_RECORDED = 'not-recorded';
export const NOT_DRAWN = 'not-drawn';
const GROUP_PREFIX = 'is:';
export const scopeOfGroup = (code: string): string => `${GROUP_PREFIX}${code}`;

/** A group that is drawn. */
interface CaseGroup {
  readonly code: string;
  readonly label: string;
}

/** Where every case of the cohort belongs. */
export interface CaseGroups {
  readonly grouping: Grouping;
  /** At most five, in the order of the vocabulary (or of the alphabet). Empty when nothing is parted. */
  readonly groups: readonly CaseGroup[];
  /** Per case of the cohort: index into `groups`; -1 not recorded; -2 a group that is not drawn. */
  readonly groupOfCase: Int8Array;
}

const NO_VALUE = -1;
const UNDRAWN = -2;

/**
 * Parts the cases. With more than five values the five with most of `counted` (case indexes, those analysed) are drawn,
 * and the others are kept apart.
 */
export function groupCases(cohort: Cohort, grouping: Grouping, counted: Int32Array): CaseGroups {
  if (grouping === 'none') return { grouping, groups: [], groupOfCase: new Int8Array(cohort.size) };
  const { column, terms } = columnOf(cohort, grouping);
  const sizes = new Int32Array(column.codes.length);
  for (const index of counted) sizes[column.index[index]] += 1;
  const present = column.codes
    .map((code, position) => ({ code, position }))
    .filter(({ position }) => position > 0 && sizes[position] > 0);
  const drawn = [...present]
    .sort((a, b) => sizes[b.position] - sizes[a.position] || a.position - b.position)
    .slice(0, MOST_GROUPS)
    .sort((a, b) => rank(terms, a.code) - rank(terms, b.code) || a.position - b.position);
  const groupOfPosition = new Int8Array(column.codes.length).fill(UNDRAWN);
  groupOfPosition[0] = NO_VALUE;
  for (const [group, { position }] of drawn.entries()) groupOfPosition[position] = group;
  return {
    grouping,
    groups: drawn.map(({ code }) => ({ code, label: labelOf(terms, code) })),
    groupOfCase: Int8Array.from(column.index, (position) => groupOfPosition[position]),
  };
}

/** Tells whether a case belongs to a scope (undefined: every case does), or undefined when there is no such scope. */
export function scopeTest(
  groups: CaseGroups,
  scope: string | undefined,
): ((caseIndex: number) => boolean) | undefined {
  if (scope === undefined) return () => true;
  if (groups.grouping === 'none') return undefined;
  const position = groups.groups.findIndex((group) => scopeOfGroup(group.code) === scope);
  const wanted = scope === NOT_RECORDED ? NO_VALUE : scope === NOT_DRAWN ? UNDRAWN : position;
  if (scope !== NOT_RECORDED && scope !== NOT_DRAWN && position < 0) return undefined;
  return (caseIndex) => groups.groupOfCase[caseIndex] === wanted;
}

/** What a scope is called: a group's label, 'not recorded', or 'other groups, not drawn'. */
export function describeScope(groups: CaseGroups, scope: string): string {
  if (scope === NOT_RECORDED) return 'not recorded';
  if (scope === NOT_DRAWN) return 'other groups, not drawn';
  return groups.groups.find((group) => scopeOfGroup(group.code) === scope)?.label ?? scope;
}

function rank(terms: readonly Term[], code: string): number {
  const position = terms.findIndex((term) => term.code === code);
  return position < 0 ? terms.length : position;
}

function columnOf(
  cohort: Cohort,
  grouping: Exclude<Grouping, 'none'>,
): { column: CohortColumn; terms: readonly Term[] } {
  switch (grouping) {
    case 'intended-strategy':
      return { column: cohort.intendedStrategy, terms: STRATEGIES };
    case 'derived-strategy':
      return { column: cohort.derivedStrategy, terms: DERIVED_STRATEGIES };
    case 'af-type':
      return { column: cohort.afType, terms: AF_TYPES };
    case 'cohort-tag':
      return { column: cohort.cohortTag, terms: [] };
  }
}
