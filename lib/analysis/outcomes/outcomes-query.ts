import { type EndpointRules, endpointRuleFields } from '../../registry/endpoint-rules';
import { type Finding, findingsOfZod, refusal } from '../../registry/findings';
import { type CohortFilter, cohortFilterFields, contradictionOfFilter } from './cohort-filter';
import { GROUPINGS, type Grouping } from './grouping';

/** Parameters as Next hands them to a page. */
export type SearchParams = Readonly<Record<string, string | readonly string[] | undefined>>;

/** Rules that differ from the stored definition for once. */
export type RulesVariation = Partial<EndpointRules>;

/** What the address asks: a stored definition, rules varied for once, whose cases, parted by what. */
export interface OutcomesQuery {
  /** The first definition of the lab when undefined. */
  readonly definitionId: string | undefined;
  readonly variation: RulesVariation;
  readonly filter: CohortFilter;
  readonly grouping: Grouping;
}

export interface ReadQuery {
  readonly query: OutcomesQuery;
  /** What was chosen or typed, by parameter, right or wrong: forms show it again. */
  readonly typed: Readonly<Record<string, string>>;
  /** What cannot be read, by parameter. */
  readonly findings: readonly Finding[];
}

/** The name of each rule in the address. */
export const RULE_PARAMS = {
  start: 'start',
  blankingDays: 'blanking',
  blankingEndInclusive: 'endInclusive',
  minimumSeconds: 'seconds',
  comparator: 'comparator',
  wholeTracingCounts: 'wholeTracing',
  rhythms: 'rhythms',
  confirmedTypicalFlutterExempt: 'flutterExempt',
  symptomaticOnly: 'symptomatic',
  drugRule: 'drugs',
  repeatRule: 'repeat',
  cardioversionCounts: 'cardioversion',
  deathRule: 'death',
  evidenceForFreedom: 'evidence',
} as const satisfies Record<keyof EndpointRules, string>;

export const FILTER_PARAMS = [
  'labelled',
  'derived',
  'af',
  'operator',
  'from',
  'to',
  'tag',
] as const satisfies readonly (keyof CohortFilter)[];

const LONGEST = 100;
const RULE_KEYS: readonly (keyof EndpointRules)[] = endpointRuleFields.keyof().options;

/** Reads the address. Everything wrong is found at once; what is right is kept, so that the page can say both. */
export function readOutcomesQuery(params: SearchParams): ReadQuery {
  const typed: Record<string, string> = {};
  for (const name of ['definition', 'by', ...Object.values(RULE_PARAMS), ...FILTER_PARAMS]) {
    const text = firstText(params[name]);
    if (text !== '') typed[name] = text;
  }
  const findings: Finding[] = [];
  const variation = readVariation(typed, findings);
  const filter = readFilter(typed, findings);
  const grouping = GROUPINGS.find((term) => term.code === (typed.by ?? 'none'))?.code;
  if (!grouping) findings.push(refusal('by', 'The cases cannot be parted by this. Choose one of the list.'));
  return {
    query: { definitionId: typed.definition, variation, filter, grouping: grouping ?? 'none' },
    typed,
    findings,
  };
}

/** The address of a query as search parameters, only what differs from the usual, always in one order. */
export function queryParams(query: OutcomesQuery): URLSearchParams {
  const params = new URLSearchParams();
  if (query.definitionId !== undefined) params.set('definition', query.definitionId);
  for (const key of RULE_KEYS) {
    const value = query.variation[key];
    if (value !== undefined) params.set(RULE_PARAMS[key], ruleText(value));
  }
  for (const name of FILTER_PARAMS) {
    const value = query.filter[name];
    if (value !== undefined) params.set(name, String(value));
  }
  if (query.grouping !== 'none') params.set('by', query.grouping);
  return params;
}

/** A rule as it stands in the address and in forms. */
export function ruleText(value: EndpointRules[keyof EndpointRules]): string {
  return typeof value === 'boolean' ? (value ? 'yes' : 'no') : String(value);
}

/** A parameter given twice counts once; an empty one is not given; an endless one is cut. */
export function firstText(value: string | readonly string[] | undefined): string {
  const text = typeof value === 'string' ? value : (value?.[0] ?? '');
  return text.trim().slice(0, LONGEST);
}

function readVariation(typed: Readonly<Record<string, string>>, findings: Finding[]): RulesVariation {
  const raw: Record<string, unknown> = {};
  for (const key of RULE_KEYS) {
    const text = typed[RULE_PARAMS[key]];
    if (text !== undefined) raw[key] = ruleValue(text);
  }
  const parsed = endpointRuleFields.partial().safeParse(raw);
  if (parsed.success) return withoutUndefined(parsed.data);
  for (const finding of findingsOfZod(parsed.error)) {
    const key = RULE_KEYS.find((known) => known === finding.field);
    findings.push(refusal(key ? RULE_PARAMS[key] : '', finding.message));
    delete raw[finding.field];
  }
  const rest = endpointRuleFields.partial().safeParse(raw);
  return rest.success ? withoutUndefined(rest.data) : {};
}

/** Text becomes what the rule's schema judges: yes and no, whole numbers, else the text itself. */
function ruleValue(text: string): unknown {
  if (text === 'yes') return true;
  if (text === 'no') return false;
  return /^\d{1,9}$/.test(text) ? Number(text) : text;
}

function readFilter(typed: Readonly<Record<string, string>>, findings: Finding[]): CohortFilter {
  const raw: Record<string, string> = {};
  for (const name of FILTER_PARAMS) if (typed[name] !== undefined) raw[name] = typed[name];
  const parsed = cohortFilterFields.safeParse(raw);
  if (!parsed.success) {
    findings.push(...findingsOfZod(parsed.error));
    return {};
  }
  const contradiction = contradictionOfFilter(parsed.data);
  if (contradiction) findings.push(refusal('from', contradiction));
  return parsed.data;
}

function withoutUndefined(
  rules: { [Key in keyof EndpointRules]?: EndpointRules[Key] | undefined },
): RulesVariation {
  const kept: { -readonly [Key in keyof EndpointRules]?: EndpointRules[Key] } = {};
  const keep = <Key extends keyof EndpointRules>(key: Key, value: EndpointRules[Key] | undefined) => {
    if (value !== undefined) kept[key] = value;
  };
  for (const key of RULE_KEYS) keep(key, rules[key]);
  return kept;
}
