import { fromEpochDay } from '../../registry/calendar-day';
import type { Cohort } from '../../registry/cohort';
import type { EndpointDefinition } from '../../registry/endpoint-definition';
import type { EndpointRules } from '../../registry/endpoint-rules';
import type { Finding } from '../../registry/findings';
import { AF_TYPES, DERIVED_STRATEGIES, STRATEGIES } from '../../registry/vocabulary';
import { GROUPINGS } from './grouping';
import { FILTER_PARAMS, type ReadQuery, RULE_PARAMS, ruleText } from './outcomes-query';

interface FormChoice {
  readonly code: string;
  readonly label: string;
}

/** One field of a form that is sent in the address. Without choices it is typed. */
export interface QuestionField {
  readonly param: string;
  readonly label: string;
  readonly unit: string | undefined;
  readonly choices: readonly FormChoice[] | undefined;
  /** Words of leaving it alone: 'as stored: 90', 'any'. */
  readonly unset: string;
  readonly value: string;
  readonly error: string | undefined;
}

/** The forms above the figure; each carries along what the others chose. */
export interface QuestionForms {
  readonly definitions: readonly FormChoice[];
  readonly definitionId: string;
  readonly rules: readonly QuestionField[];
  readonly filters: readonly QuestionField[];
  readonly grouping: QuestionField;
  /** Hidden fields of a form that keeps all but its own. */
  readonly keepRules: readonly (readonly [param: string, value: string])[];
  readonly keepFilters: readonly (readonly [param: string, value: string])[];
}

const YES_NO = (yes: string, no: string): FormChoice[] => [
  { code: 'yes', label: yes },
  { code: 'no', label: no },
];

type RuleField = { readonly label: string; readonly unit?: string; readonly choices?: readonly FormChoice[] };

const RULE_FIELDS: Readonly<Record<keyof EndpointRules, RuleField>> = {
  blankingDays: { label: 'Blanking', unit: 'days' },
  blankingEndInclusive: { label: 'Last day of blanking', choices: YES_NO('is blanked', 'is not blanked') },
  drugRule: {
    label: 'Class I and III drugs',
    choices: [
      { code: 'ignored', label: 'ignored' },
      { code: 'resumption-is-failure', label: 'starting one is failure' },
      { code: 'must-be-off', label: 'must be off after blanking' },
    ],
  },
  rhythms: {
    label: 'Rhythms that count',
    choices: [
      { code: 'af', label: 'AF alone' },
      { code: 'af-at-afl', label: 'AF, AT or AFL' },
    ],
  },
  confirmedTypicalFlutterExempt: {
    label: 'Confirmed typical flutter',
    choices: YES_NO('is exempt', 'counts'),
  },
  symptomaticOnly: { label: 'Symptoms', choices: YES_NO('only symptomatic ones count', 'do not matter') },
  minimumSeconds: { label: 'Least length', unit: 's' },
  comparator: {
    label: 'An episode of exactly that length',
    choices: [
      { code: 'at-least', label: 'counts' },
      { code: 'more-than', label: 'does not count' },
    ],
  },
  wholeTracingCounts: {
    label: 'A whole tracing',
    choices: YES_NO('counts whatever its length', 'must be long enough'),
  },
  start: {
    label: 'Time starts at',
    choices: [
      { code: 'first-procedure', label: 'the first procedure' },
      { code: 'last-procedure', label: 'the last procedure' },
      { code: 'each-procedure', label: 'each procedure' },
    ],
  },
  repeatRule: {
    label: 'A repeat ablation',
    choices: [
      { code: 'failure', label: 'is failure' },
      { code: 'censoring', label: 'censors' },
      { code: 'new-start', label: 'starts time anew' },
    ],
  },
  cardioversionCounts: { label: 'A cardioversion', choices: YES_NO('is failure', 'does not count') },
  deathRule: {
    label: 'Death',
    choices: [
      { code: 'censoring', label: 'censors' },
      { code: 'failure', label: 'is failure' },
      { code: 'competing', label: 'competes' },
    ],
  },
  evidenceForFreedom: {
    label: 'Least evidence of freedom',
    choices: [
      { code: 'ecg', label: 'any ECG' },
      { code: '24h', label: '24 h' },
      { code: '7d', label: '7 days' },
      { code: '14d', label: '14 days' },
      { code: 'continuous', label: 'implanted device' },
    ],
  },
};

/** The forms, filled with what was chosen, right or wrong, and each finding beside its field. */
export function questionForms(
  read: ReadQuery,
  findings: readonly Finding[],
  definitions: readonly EndpointDefinition[],
  chosen: EndpointDefinition | undefined,
  cohort: Cohort,
): QuestionForms {
  const { typed } = read;
  const field = (
    param: string,
    label: string,
    unset: string,
    choices?: readonly FormChoice[],
    unit?: string,
  ) => ({
    param,
    label,
    unit,
    choices,
    unset,
    value: typed[param] ?? '',
    error:
      findings
        .filter((finding) => finding.field === param && finding.kind === 'refusal')
        .map(({ message }) => message)
        .join(' ') || undefined,
  });
  const rules = Object.entries(RULE_FIELDS).map(([key, { label, unit, choices }]) =>
    field(
      paramOf(key),
      label,
      `as stored${chosen ? `: ${storedLabel(chosen.rules, key, choices)}` : ''}`,
      choices,
      unit,
    ),
  );
  const codes = (column: { readonly codes: readonly string[] }) =>
    column.codes.slice(1).map((code) => ({ code, label: code }));
  const years = yearsOf(cohort);
  return {
    definitions: definitions.map(({ id, name, versionNumber }) => ({
      code: id,
      label: `${name}, version ${versionNumber}`,
    })),
    definitionId: chosen?.id ?? '',
    rules,
    filters: [
      field('labelled', 'Strategy as labelled', 'any', STRATEGIES),
      field('derived', 'Strategy derived from the lesions', 'any', DERIVED_STRATEGIES),
      field('af', 'AF type', 'any', AF_TYPES),
      field('operator', 'Operator', 'any', codes(cohort.operator)),
      field('from', 'Procedures from', 'any', years),
      field('to', 'to', 'any', years),
      field('tag', 'Cohort tag', 'any', codes(cohort.cohortTag)),
    ].filter(({ choices, value }) => (choices?.length ?? 0) > 0 || value !== ''),
    grouping: field('by', 'Part the cases by', 'nothing: all together', GROUPINGS.slice(1)),
    keepRules: kept(typed, Object.values(RULE_PARAMS)),
    keepFilters: kept(typed, [...FILTER_PARAMS, 'by']),
  };
}

function kept(typed: Readonly<Record<string, string>>, params: readonly string[]): [string, string][] {
  return params.flatMap((param): [string, string][] =>
    typed[param] === undefined ? [] : [[param, typed[param]]],
  );
}

const isRule = (key: string): key is keyof EndpointRules => key in RULE_PARAMS;
const paramOf = (key: string): string => (isRule(key) ? RULE_PARAMS[key] : key);

function storedLabel(rules: EndpointRules, key: string, choices: readonly FormChoice[] | undefined): string {
  const stored = isRule(key) ? ruleText(rules[key]) : '';
  return choices?.find(({ code }) => code === stored)?.label ?? stored;
}

function yearsOf(cohort: Cohort): FormChoice[] {
  if (cohort.size === 0) return [];
  const yearAt = (index: number) => Number(fromEpochDay(cohort.performedOnDay[index]).slice(0, 4));
  const first = yearAt(0);
  // Cases are ordered by performed day.
  const count = yearAt(cohort.size - 1) - first + 1;
  return Array.from({ length: count }, (_, i) => ({ code: String(first + i), label: String(first + i) }));
}
