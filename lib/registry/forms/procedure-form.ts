import { z } from 'zod';
import { ENERGIES, STEERINGS, STRATEGIES } from '../vocabulary';
import { amendmentShape } from './amendment';
import { BASELINE_LABELS, BASELINE_NUMBERS, baselineEntries, emptyBaseline } from './baseline-entries';
import {
  choiceEntry,
  codeEntry,
  type NumberField,
  numberEntry,
  requiredChoiceEntry,
  requiredDayEntry,
} from './entries';

/** Impossible limits are those of the database; usual ranges are common practice, no source. */
export const PROCEDURE_NUMBERS = {
  ageYears: {
    label: 'Age at the procedure',
    unit: 'a',
    min: 0,
    max: 120,
    usualMin: 18,
    usualMax: 90,
    decimals: 0,
  },
  procedureMinutes: {
    label: 'Procedure time',
    unit: 'min',
    min: 1,
    max: 1440,
    usualMin: 30,
    usualMax: 480,
    decimals: 0,
  },
  fluoroscopyMinutes: {
    label: 'Fluoroscopy time',
    unit: 'min',
    min: 0,
    max: 1440,
    usualMax: 120,
    decimals: 2,
  },
} as const satisfies Record<string, NumberField>;

/** What the fields are called that hold no number; the others are in `PROCEDURE_NUMBERS`. */
const OWN_LABELS = {
  performedOn: 'Procedure day',
  operatorId: 'Operator',
  energy: 'Energy',
  steering: 'Steering',
  intendedStrategy: 'Intended strategy',
} as const;

const UUID = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i;

const shape = {
  performedOn: requiredDayEntry(OWN_LABELS.performedOn),
  /** Completed years, entered by hand: a birth year cannot decide 65 or 75. */
  ageYears: numberEntry(PROCEDURE_NUMBERS.ageYears),
  operatorId: codeEntry(OWN_LABELS.operatorId, UUID, 'Choose the operator from the list.'),
  energy: requiredChoiceEntry(OWN_LABELS.energy, ENERGIES),
  steering: choiceEntry(OWN_LABELS.steering, STEERINGS),
  intendedStrategy: choiceEntry(OWN_LABELS.intendedStrategy, STRATEGIES),
  procedureMinutes: numberEntry(PROCEDURE_NUMBERS.procedureMinutes),
  /** Minutes as the lab reads them, to hundredths; stored as whole seconds, see `fluoroscopySecondsOf`. */
  fluoroscopyMinutes: numberEntry(PROCEDURE_NUMBERS.fluoroscopyMinutes),
  baseline: baselineEntries,
};

interface TimeFields {
  readonly procedureMinutes: number | null;
  readonly fluoroscopyMinutes: number | null;
}

function checkTimes(procedure: TimeFields, context: z.core.$RefinementCtx): void {
  const { procedureMinutes, fluoroscopyMinutes } = procedure;
  if (procedureMinutes === null || fluoroscopyMinutes === null || fluoroscopyMinutes <= procedureMinutes)
    return;
  context.addIssue({
    code: 'custom',
    path: ['fluoroscopyMinutes'],
    message: `Fluoroscopy time: ${fluoroscopyMinutes} min is longer than the procedure (${procedureMinutes} min). Mend one of the two.`,
  });
}

export const procedureFormSchema = z.strictObject(shape).superRefine(checkTimes);
export const procedureAmendmentSchema = z
  .strictObject({ ...shape, ...amendmentShape })
  .superRefine(checkTimes);

export type ProcedureFormInput = z.input<typeof procedureFormSchema>;
export type ProcedureForm = z.output<typeof procedureFormSchema>;
export type ProcedureAmendmentInput = z.input<typeof procedureAmendmentSchema>;
export type ProcedureAmendment = z.output<typeof procedureAmendmentSchema>;

const labelsIn = (fields: Readonly<Record<string, NumberField>>) =>
  Object.entries(fields).map(([field, { label }]) => [field, label] as const);

/** What each field is called, by its path in the form. */
export const PROCEDURE_LABELS: Readonly<Record<string, string>> = Object.fromEntries([
  ...Object.entries(OWN_LABELS),
  ...labelsIn(PROCEDURE_NUMBERS),
  ...[...Object.entries(BASELINE_LABELS), ...labelsIn(BASELINE_NUMBERS)].map(
    ([field, label]) => [`baseline.${field}`, label] as const,
  ),
]);

export const emptyProcedureForm = {
  performedOn: '',
  ageYears: '',
  operatorId: '',
  energy: '',
  steering: '',
  intendedStrategy: '',
  procedureMinutes: '',
  fluoroscopyMinutes: '',
  baseline: emptyBaseline,
} satisfies ProcedureFormInput;

/** Whole seconds of fluoroscopy, as stored; null stays null. */
export function fluoroscopySecondsOf(minutes: number | null): number | null {
  return minutes === null ? null : Math.round(minutes * 60);
}

/** Minutes to hundredths, as the form shows stored seconds; `fluoroscopySecondsOf` gives the same seconds back. */
export function fluoroscopyMinutesOf(seconds: number | null): number | null {
  return seconds === null ? null : Math.round((seconds * 100) / 60) / 100;
}
