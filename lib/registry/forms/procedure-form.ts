import { z } from 'zod';
import { type CalendarDay, daysBetween, isCalendarDay } from '../calendar-day';
import { PROCEDURE_VARIABLES } from '../case-variables';
import {
  ABORT_REASONS,
  ANAESTHESIAS,
  ANTICOAGULATIONS,
  DEVICE_TYPES,
  IMAGINGS,
  INDICATIONS,
  THROMBUS_EXCLUSIONS,
} from '../procedure-vocabulary';
import { ENERGIES, RHYTHMS, STEERINGS, STRATEGIES } from '../vocabulary';
import { amendmentShape } from './amendment';
import { baselineEntries, emptyBaseline } from './baseline-entries';
import {
  choiceEntry,
  codeEntry,
  dayEntry,
  type NumberField,
  numberEntry,
  requiredChoiceEntry,
  requiredDayEntry,
} from './entries';
import { PROCEDURE_LABELS } from './field-labels';
import { keptEntries } from './kept-values';

type Limits = Omit<NumberField, 'label' | 'unit'>;

/** Impossible limits are those of the database; usual ranges are common practice, no source. */
const LIMITS = {
  ageYears: { min: 0, max: 120, usualMin: 18, usualMax: 90, decimals: 0 },
  procedureMinutes: { min: 1, max: 1440, usualMin: 30, usualMax: 480, decimals: 0 },
  leftAtrialMinutes: { min: 1, max: 1440, usualMin: 15, usualMax: 420, decimals: 0 },
  /** From 60 min a substantial dose level (from memory). */
  fluoroscopyMinutes: { min: 0, max: 1440, usualMax: 60, decimals: 2 },
  /** 500 Gy.cm2 and 5 Gy are substantial dose levels (from memory). */
  dapGyCm2: { min: 0, max: 5000, usualMax: 500, decimals: 2 },
  airKermaMgy: { min: 0, max: 50_000, usualMax: 5000, decimals: 1 },
  heparinUnits: { min: 0, max: 200_000, usualMin: 2000, usualMax: 40_000, decimals: 0 },
  /** An ACT of 300 s or more is aimed at (from memory). */
  lowestActS: { min: 20, max: 2000, usualMin: 200, usualMax: 500, decimals: 0 },
} as const satisfies Partial<Record<keyof typeof PROCEDURE_VARIABLES, Limits>>;

type ProcedureNumber = keyof typeof LIMITS;
function numberField(name: ProcedureNumber): NumberField {
  const { label, unit } = PROCEDURE_VARIABLES[name];
  return { label, unit, ...LIMITS[name] };
}

export const PROCEDURE_NUMBERS: Readonly<Record<ProcedureNumber, NumberField>> = {
  ageYears: numberField('ageYears'),
  procedureMinutes: numberField('procedureMinutes'),
  leftAtrialMinutes: numberField('leftAtrialMinutes'),
  fluoroscopyMinutes: numberField('fluoroscopyMinutes'),
  dapGyCm2: numberField('dapGyCm2'),
  airKermaMgy: numberField('airKermaMgy'),
  heparinUnits: numberField('heparinUnits'),
  lowestActS: numberField('lowestActS'),
};

const UUID = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i;

const LOT = /^[0-9A-Za-z][0-9A-Za-z ./-]{0,29}$/;

const shape = {
  performedOn: requiredDayEntry(PROCEDURE_LABELS.performedOn),
  /** Completed years, entered by hand: a birth year cannot decide 65 or 75. */
  ageYears: numberEntry(PROCEDURE_NUMBERS.ageYears),
  operatorId: codeEntry(PROCEDURE_LABELS.operatorId, UUID, 'Choose the operator from the list.'),
  indication: choiceEntry(PROCEDURE_LABELS.indication, INDICATIONS),
  energy: requiredChoiceEntry(PROCEDURE_LABELS.energy, ENERGIES),
  deviceType: choiceEntry(PROCEDURE_LABELS.deviceType, DEVICE_TYPES),
  deviceLot: codeEntry(
    PROCEDURE_LABELS.deviceLot,
    LOT,
    'Write at most 30 letters, figures, spaces, points, slashes or hyphens, as printed on the package.',
  ),
  steering: choiceEntry(PROCEDURE_LABELS.steering, STEERINGS),
  imaging: choiceEntry(PROCEDURE_LABELS.imaging, IMAGINGS),
  anaesthesia: choiceEntry(PROCEDURE_LABELS.anaesthesia, ANAESTHESIAS),
  thrombusExclusion: choiceEntry(PROCEDURE_LABELS.thrombusExclusion, THROMBUS_EXCLUSIONS),
  anticoagulation: choiceEntry(PROCEDURE_LABELS.anticoagulation, ANTICOAGULATIONS),
  intendedStrategy: choiceEntry(PROCEDURE_LABELS.intendedStrategy, STRATEGIES),
  abortedReason: choiceEntry(PROCEDURE_LABELS.abortedReason, ABORT_REASONS),
  rhythmAtStart: choiceEntry(PROCEDURE_LABELS.rhythmAtStart, RHYTHMS),
  rhythmAtEnd: choiceEntry(PROCEDURE_LABELS.rhythmAtEnd, RHYTHMS),
  procedureMinutes: numberEntry(PROCEDURE_NUMBERS.procedureMinutes),
  leftAtrialMinutes: numberEntry(PROCEDURE_NUMBERS.leftAtrialMinutes),
  /** Minutes as the lab reads them, to hundredths; stored as whole seconds, see `fluoroscopySecondsOf`. */
  fluoroscopyMinutes: numberEntry(PROCEDURE_NUMBERS.fluoroscopyMinutes),
  dapGyCm2: numberEntry(PROCEDURE_NUMBERS.dapGyCm2),
  airKermaMgy: numberEntry(PROCEDURE_NUMBERS.airKermaMgy),
  heparinUnits: numberEntry(PROCEDURE_NUMBERS.heparinUnits),
  lowestActS: numberEntry(PROCEDURE_NUMBERS.lowestActS),
  dischargedOn: dayEntry(PROCEDURE_LABELS.dischargedOn),
  baseline: baselineEntries,
  kept: keptEntries,
};

interface TimeFields {
  readonly performedOn: CalendarDay;
  readonly dischargedOn: CalendarDay | null;
  readonly procedureMinutes: number | null;
  readonly leftAtrialMinutes: number | null;
  readonly fluoroscopyMinutes: number | null;
}

/** Times that contradict each other. Both sides are named: either may be the wrong one. */
function checkTimes(procedure: TimeFields, context: z.core.$RefinementCtx): void {
  const { performedOn, dischargedOn, procedureMinutes } = procedure;
  const refuse = (path: string, message: string) =>
    context.addIssue({ code: 'custom', path: [path], message });
  for (const name of ['fluoroscopyMinutes', 'leftAtrialMinutes'] as const) {
    const minutes = procedure[name];
    if (typeof procedureMinutes === 'number' && typeof minutes === 'number' && minutes > procedureMinutes) {
      refuse(
        name,
        `${PROCEDURE_LABELS[name]}: ${minutes} min is longer than the procedure (${procedureMinutes} min). Mend one of the two.`,
      );
    }
  }
  if (
    isCalendarDay(performedOn) &&
    typeof dischargedOn === 'string' &&
    isCalendarDay(dischargedOn) &&
    daysBetween(performedOn, dischargedOn) < 0
  ) {
    refuse(
      'dischargedOn',
      `${PROCEDURE_LABELS.dischargedOn}: ${dischargedOn} is before the procedure on ${performedOn}. Mend one of the two.`,
    );
  }
}

export const procedureFormSchema = z.strictObject(shape).superRefine(checkTimes);
export const procedureAmendmentSchema = z
  .strictObject({ ...shape, ...amendmentShape })
  .superRefine(checkTimes);

export type ProcedureFormInput = z.input<typeof procedureFormSchema>;
export type ProcedureForm = z.output<typeof procedureFormSchema>;
export type ProcedureAmendmentInput = z.input<typeof procedureAmendmentSchema>;
export type ProcedureAmendment = z.output<typeof procedureAmendmentSchema>;

const single = Object.keys(shape).filter((name) => name !== 'baseline' && name !== 'kept');

/** Every field empty. */
export const emptyProcedureForm: ProcedureFormInput = {
  ...Object.fromEntries(single.map((name) => [name, ''])),
  baseline: emptyBaseline,
  kept: [],
};

/** Whole seconds of fluoroscopy, as stored; null stays null. */
export function fluoroscopySecondsOf(minutes: number | null): number | null {
  return minutes === null ? null : Math.round(minutes * 60);
}

/** Minutes to hundredths, as the form shows stored seconds; `fluoroscopySecondsOf` gives the same seconds back. */
export function fluoroscopyMinutesOf(seconds: number | null): number | null {
  return seconds === null ? null : Math.round((seconds * 100) / 60) / 100;
}
