import type { Cohort, CohortColumn } from '@/lib/registry/cohort';
import type { EndpointDefinition, EndpointRules } from '@/lib/registry/endpoint-definition';
import { ENDPOINT_PRESETS } from '@/lib/registry/endpoint-presets';
import { cohortOf, EMPTY_CASE, recorded, type TestCase } from '../registry/time-to-event-cases';

/** A case by how its follow-up ends, with covariates. */
export interface ShortCase {
  /** AF on this day, after a clean recording on each of `clean`. */
  readonly af?: number;
  readonly clean?: readonly number[];
  readonly death?: number;
  readonly next?: number;
  readonly ordinal?: number;
  readonly strategy?: string;
  readonly tag?: string;
  readonly patient?: number;
  readonly performedOnDay?: number;
  readonly operator?: string;
  readonly afType?: string;
}

function codesColumn(values: readonly (string | undefined)[]): CohortColumn {
  const codes = ['', ...[...new Set(values.filter((value) => value !== undefined))].sort()];
  return {
    codes,
    index: Uint16Array.from(values, (value) => (value === undefined ? 0 : codes.indexOf(value))),
  };
}

export function shortCohort(cases: readonly ShortCase[]): Cohort {
  const tested = cases.map(
    (one): TestCase => ({
      ...EMPTY_CASE,
      ordinal: one.ordinal ?? 1,
      next: one.next ?? null,
      death: one.death ?? null,
      recordings: [
        ...(one.clean ?? []).map((day) => recorded('sinus', day)),
        ...(one.af === undefined ? [] : [recorded('af', one.af)]),
      ],
    }),
  );
  return {
    ...cohortOf(tested),
    patientIndex: Int32Array.from(cases, (one, index) => one.patient ?? index),
    performedOnDay: Int32Array.from(cases, (one) => one.performedOnDay ?? 19_000),
    derivedStrategy: codesColumn(cases.map(({ strategy }) => strategy)),
    intendedStrategy: codesColumn(cases.map(({ strategy }) => strategy)),
    cohortTag: codesColumn(cases.map(({ tag }) => tag)),
    operator: codesColumn(cases.map(({ operator }) => operator)),
    afType: codesColumn(cases.map(({ afType }) => afType)),
  };
}

const preset = ENDPOINT_PRESETS.find(({ code }) => code === 'on-or-off-drugs');
if (!preset) throw new Error('the preset is gone');

/** Any AF, AT or AFL, drugs ignored, blanking 90 days inclusive, a repeat censors: recordings alone decide. */
export const PLAIN_RULES: EndpointRules = { ...preset.rules, repeatRule: 'censoring' };

export function definitionOf(rules: EndpointRules): EndpointDefinition {
  return { id: 'definition-1', name: 'Test', versionNumber: 2, madeOn: '2026-03-04', note: null, rules };
}

/** Numbers in [0, 1) by a linear congruence (Numerical Recipes constants): the same cohort on every run. */
export function randomNumbers(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 4_294_967_296;
  };
}

const STRATEGY_CODES = [
  'ostial',
  'wide-encircling',
  'wide-with-lines',
  'single-shot',
  'mixed',
  'not-derivable',
];
const TYPE_CODES = ['paroxysmal', 'early-persistent', 'persistent', 'long-standing-persistent'];

/** A lab of `size` random cases over `days` of follow-up, all kinds of endings and missing values among them. */
export function randomCohort(seed: number, size: number, days = 1500): Cohort {
  const random = randomNumbers(seed);
  const below = (bound: number) => Math.floor(random() * bound);
  const maybe = (chance: number, value: () => number) => (random() < chance ? { value: value() } : undefined);
  return shortCohort(
    Array.from({ length: size }, (): ShortCase => {
      const last = 30 + below(days);
      const af = maybe(0.5, () => 1 + below(last + 60));
      const death = maybe(0.1, () => 1 + below(last + 200));
      const next = death ? undefined : maybe(0.1, () => 1 + below(last));
      const strategy = below(7);
      return {
        clean: Array.from({ length: below(5) }, () => 1 + below(last)),
        ...(af ? { af: af.value } : {}),
        ...(death ? { death: death.value } : {}),
        ...(next ? { next: next.value } : {}),
        ordinal: random() < 0.85 ? 1 : 2,
        ...(strategy < 6 ? { strategy: STRATEGY_CODES[strategy] } : {}),
        ...(random() < 0.9 ? { afType: TYPE_CODES[below(4)] } : {}),
        operator: `OP-${1 + below(3)}`,
        patient: below(size),
        performedOnDay: 16_500 + below(2600),
      };
    }),
  );
}
