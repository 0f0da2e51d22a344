import { z } from 'zod';
import { calendarDay, toEpochDay } from '../../registry/calendar-day';
import type { Cohort, CohortColumn } from '../../registry/cohort';
import { normalisePatientCode } from '../../registry/patient-code';
import { AF_TYPES, DERIVED_STRATEGIES, labelOf, STRATEGIES, type Term } from '../../registry/vocabulary';
import { inSentence } from './numbers-in-words';

/** A code as it is written, mistyped or not; without its hyphens only a right one is told from a word. */
const WRITTEN_CODE = /^P-[0-9A-Z]{4,8}-[0-9A-Z]$/i;

const knownCode = (terms: readonly Term[], what: string) =>
  z
    .string()
    .max(60)
    .refine(
      (code) => terms.some((term) => term.code === code),
      `This is no ${what} the registry knows. Choose one.`,
    );

const freeCode = (what: string) =>
  z
    .string()
    .max(60, `A ${what} has at most 60 characters.`)
    .refine(
      (code) => !WRITTEN_CODE.test(code) && normalisePatientCode(code) === null,
      'A patient code does not belong in an address. Look under Cases.',
    );

const year = z
  .string()
  .regex(/^\d{4}$/, 'Give a year with four digits, such as 2024.')
  .transform(Number)
  .pipe(z.int().min(1900, 'Give a year from 1900 on.').max(2199, 'Give a year up to 2199.'));

/** The cohort filter as it stands in the address: which cases are looked at. Whose first or last procedure is the definition's. */
export const cohortFilterFields = z.object({
  /** Strategy as the operator named it before. */
  labelled: knownCode(STRATEGIES, 'strategy').optional(),
  /** Strategy as derived from the lesions. */
  derived: knownCode(DERIVED_STRATEGIES, 'strategy').optional(),
  af: knownCode(AF_TYPES, 'type of AF').optional(),
  operator: freeCode('code').optional(),
  /** Years of the procedure, both included. */
  from: year.optional(),
  to: year.optional(),
  tag: freeCode('cohort tag').optional(),
});
export type CohortFilter = z.infer<typeof cohortFilterFields>;

/** Why a filter that is well-formed field by field can still not hold; undefined when it can. */
export function contradictionOfFilter(filter: CohortFilter): string | undefined {
  return filter.from !== undefined && filter.to !== undefined && filter.from > filter.to
    ? `The years run backwards: from ${filter.from} to ${filter.to}. Exchange them.`
    : undefined;
}

/** One byte per case: 1 when the case meets every part of the filter. A case whose value is not recorded meets none that asks for it. */
export function maskOfFilter(cohort: Cohort, filter: CohortFilter): Uint8Array {
  const mask = new Uint8Array(cohort.size).fill(1);
  keepCode(mask, cohort.intendedStrategy, filter.labelled);
  keepCode(mask, cohort.derivedStrategy, filter.derived);
  keepCode(mask, cohort.afType, filter.af);
  keepCode(mask, cohort.operator, filter.operator);
  keepCode(mask, cohort.cohortTag, filter.tag);
  const { from, to } = filter;
  if (from !== undefined || to !== undefined) {
    const first = from === undefined ? Number.NEGATIVE_INFINITY : toEpochDay(calendarDay(`${from}-01-01`));
    const last = to === undefined ? Number.POSITIVE_INFINITY : toEpochDay(calendarDay(`${to}-12-31`));
    for (let i = 0; i < mask.length; i += 1) {
      const day = cohort.performedOnDay[i];
      if (day < first || day > last) mask[i] = 0;
    }
  }
  return mask;
}

function keepCode(mask: Uint8Array, column: CohortColumn, code: string | undefined): void {
  if (code === undefined) return;
  const wanted = column.codes.indexOf(code);
  for (let i = 0; i < mask.length; i += 1) if (wanted < 1 || column.index[i] !== wanted) mask[i] = 0;
}

/** The cohort in words, as printed on figures: 'all procedures', 'paroxysmal AF, operator OP-1, procedures from 2019 to 2021'. */
export function describeFilter(filter: CohortFilter): string {
  const parts = [
    filter.labelled ? `labelled ${inSentence(labelOf(STRATEGIES, filter.labelled))}` : '',
    filter.derived ? `lesions ${inSentence(labelOf(DERIVED_STRATEGIES, filter.derived))}` : '',
    filter.af ? `${inSentence(labelOf(AF_TYPES, filter.af))} AF` : '',
    filter.operator ? `operator ${filter.operator}` : '',
    filter.tag ? `tagged ${filter.tag}` : '',
    yearsInWords(filter),
  ].filter((part) => part !== '');
  return parts.length === 0 ? 'all procedures' : parts.join(', ');
}

function yearsInWords({ from, to }: CohortFilter): string {
  if (from !== undefined && to !== undefined) {
    return from === to ? `procedures of ${from}` : `procedures from ${from} to ${to}`;
  }
  if (from !== undefined) return `procedures since ${from}`;
  return to !== undefined ? `procedures up to ${to}` : '';
}
