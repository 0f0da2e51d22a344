import { z } from 'zod';
import { ENERGIES, STEERINGS, STRATEGIES } from '../vocabulary';
import { amendmentShape } from './amendment';
import { baselineEntries, emptyBaseline } from './baseline-entries';
import {
  choiceEntry,
  codeEntry,
  type NumberField,
  numberEntry,
  requiredChoiceEntry,
  requiredDayEntry,
} from './entries';
import { PROCEDURE_LABELS } from './field-labels';

/** Impossible limits are those of the database; usual ranges are common practice, no source. */
export const PROCEDURE_NUMBERS = {
  ageYears: {
    label: PROCEDURE_LABELS.ageYears,
    unit: 'a',
    min: 0,
    max: 120,
    usualMin: 18,
    usualMax: 90,
    decimals: 0,
  },
  procedureMinutes: {
    label: PROCEDURE_LABELS.procedureMinutes,
    unit: 'min',
    min: 1,
    max: 1440,
    usualMin: 30,
    usualMax: 480,
    decimals: 0,
  },
  fluoroscopyMinutes: {
    label: PROCEDURE_LABELS.fluoroscopyMinutes,
    unit: 'min',
    min: 0,
    max: 1440,
    usualMax: 120,
    decimals: 2,
  },
} as const satisfies Record<string, NumberField>;

const UUID = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i;

const shape = {
  performedOn: requiredDayEntry(PROCEDURE_LABELS.performedOn),
  /** Completed years, entered by hand: a birth year cannot decide 65 or 75. */
  ageYears: numberEntry(PROCEDURE_NUMBERS.ageYears),
  operatorId: codeEntry(PROCEDURE_LABELS.operatorId, UUID, 'Choose the operator from the list.'),
  energy: requiredChoiceEntry(PROCEDURE_LABELS.energy, ENERGIES),
  steering: choiceEntry(PROCEDURE_LABELS.steering, STEERINGS),
  intendedStrategy: choiceEntry(PROCEDURE_LABELS.intendedStrategy, STRATEGIES),
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
  if (typeof procedureMinutes !== 'number' || typeof fluoroscopyMinutes !== 'number') return;
  if (fluoroscopyMinutes <= procedureMinutes) return;
  context.addIssue({
    code: 'custom',
    path: ['fluoroscopyMinutes'],
    message: `${PROCEDURE_LABELS.fluoroscopyMinutes}: ${fluoroscopyMinutes} min is longer than the procedure (${procedureMinutes} min). Mend one of the two.`,
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
