import { deriveAfType } from '../af-type';
import { type CalendarDay, daysBetween } from '../calendar-day';
import { type Finding, refusal, warning } from '../findings';
import { AF_TYPES, type AfType, labelOf } from '../vocabulary';
import { BASELINE_NUMBERS } from './baseline-entries';
import { BASELINE_LABELS, PROCEDURE_LABELS } from './field-labels';
import { isAgePossible } from './patient-checks';
import { warningsOfNumbers } from './plausibility';
import { PROCEDURE_NUMBERS, type ProcedureForm } from './procedure-form';

export interface ProcedureContext {
  readonly birthYear: number;
  readonly today: CalendarDay;
  readonly diedOn: CalendarDay | null;
  /** The patient's procedures with a lower ordinal; for a new one: all that are stored. */
  readonly earlierProcedures: readonly { readonly ordinal: number; readonly performedOn: CalendarDay }[];
  /** For an edit: the day of the next procedure, and of the first visit or complication that hangs on this one. */
  readonly nextPerformedOn?: CalendarDay | null;
  readonly firstDependentOn?: CalendarDay | null;
}

/** What speaks against a procedure once the patient, the other procedures and today's date are known; usual ranges included. */
export function checkProcedureAgainstPatient(procedure: ProcedureForm, context: ProcedureContext): Finding[] {
  return [
    ...checkDay(procedure.performedOn, context),
    ...checkDischarge(procedure.dischargedOn, context),
    ...checkAge(procedure, context.birthYear),
    ...checkBaseline(procedure, context.birthYear),
    ...warningsOfProcedure(procedure),
  ];
}

/** Values outside the usual ranges, and an AF type that its longest episode does not support: questions, not refusals. */
export function warningsOfProcedure(procedure: ProcedureForm): Finding[] {
  const { afType, longestEpisodeDays, episodeEnding } = procedure.baseline;
  const found = [
    ...warningsOfNumbers({ ...procedure }, PROCEDURE_NUMBERS),
    ...warningsOfNumbers(procedure.baseline, BASELINE_NUMBERS, 'baseline.'),
  ];
  const fitting = deriveAfType(longestEpisodeDays, episodeEnding);
  if (afType !== null && fitting.kind === 'derived' && !isSupported(afType, fitting.afType)) {
    found.push(
      warning(
        'baseline.afType',
        `${BASELINE_LABELS.afType}: ${labelOf(AF_TYPES, afType).toLowerCase()} does not fit a longest episode of ${longestEpisodeDays} d (${labelOf(AF_TYPES, fitting.afType).toLowerCase()}). Check both, or keep them.`,
      ),
    );
  }
  return found;
}

/** An early persistent episode is a persistent one. */
const isSupported = (chosen: AfType, derived: AfType): boolean =>
  chosen === derived || (chosen === 'persistent' && derived === 'early-persistent');

/** Cases are numbered by their days: what happens when an entry comes late or moves. */
const REORDERED = 'If that is right, the numbers of this patient’s cases change to follow the days.';

function checkDay(performedOn: CalendarDay, context: ProcedureContext): Finding[] {
  const {
    today,
    diedOn,
    birthYear,
    earlierProcedures,
    nextPerformedOn = null,
    firstDependentOn = null,
  } = context;
  const found: Finding[] = [];
  const refuse = (message: string) =>
    found.push(refusal('performedOn', `${PROCEDURE_LABELS.performedOn}: ${message}`));
  const question = (message: string) =>
    found.push(warning('performedOn', `${PROCEDURE_LABELS.performedOn}: ${message}`));
  if (daysBetween(today, performedOn) > 0)
    refuse(`${performedOn} lies in the future. Give a day up to today, ${today}.`);
  if (diedOn !== null && daysBetween(diedOn, performedOn) > 0)
    refuse(`${performedOn} is after the death on ${diedOn}. Mend one of the two.`);
  if (Number(performedOn.slice(0, 4)) < birthYear)
    refuse(`${performedOn} is before the birth year, ${birthYear}. Check the day.`);
  for (const earlier of earlierProcedures) {
    const days = daysBetween(earlier.performedOn, performedOn);
    if (days === 0) refuse(`procedure ${earlier.ordinal} was on the same day. Open that one instead.`);
    if (days < 0)
      question(
        `${performedOn} is before procedure ${earlier.ordinal} on ${earlier.performedOn}. ${REORDERED}`,
      );
  }
  const toNext = nextPerformedOn === null ? 1 : daysBetween(performedOn, nextPerformedOn);
  if (toNext === 0) refuse('the next procedure was on the same day. Check the day.');
  if (toNext < 0) question(`${performedOn} is after the next procedure on ${nextPerformedOn}. ${REORDERED}`);
  if (firstDependentOn !== null && daysBetween(performedOn, firstDependentOn) < 0) {
    refuse(
      `${performedOn} is after ${firstDependentOn}, when a visit or complication of this procedure is recorded. Mend that one first.`,
    );
  }
  return found;
}

function checkDischarge(dischargedOn: CalendarDay | null, { today, diedOn }: ProcedureContext): Finding[] {
  if (dischargedOn === null) return [];
  const label = PROCEDURE_LABELS.dischargedOn;
  if (daysBetween(today, dischargedOn) > 0) {
    const message = `${label}: ${dischargedOn} lies in the future. Leave it empty until the patient has left.`;
    return [refusal('dischargedOn', message)];
  }
  return diedOn !== null && daysBetween(diedOn, dischargedOn) > 0
    ? [
        refusal(
          'dischargedOn',
          `${label}: ${dischargedOn} is after the death on ${diedOn}. Mend one of the two.`,
        ),
      ]
    : [];
}

function checkAge({ ageYears, performedOn }: ProcedureForm, birthYear: number): Finding[] {
  if (ageYears === null || isAgePossible(birthYear, performedOn, ageYears)) return [];
  const older = Number(performedOn.slice(0, 4)) - birthYear;
  const message = `${PROCEDURE_LABELS.ageYears}: ${ageYears} does not fit the birth year ${birthYear}; on ${performedOn} it is ${older - 1} or ${older}. Mend the age, or the birth year of the patient.`;
  return [refusal('ageYears', message)];
}

function checkBaseline({ baseline, performedOn }: ProcedureForm, birthYear: number): Finding[] {
  const { afSinceYear } = baseline;
  if (afSinceYear === null) return [];
  const label = BASELINE_LABELS.afSinceYear;
  if (afSinceYear > Number(performedOn.slice(0, 4))) {
    return [
      refusal(
        'baseline.afSinceYear',
        `${label}: ${afSinceYear} is after the procedure on ${performedOn}. Mend one of the two.`,
      ),
    ];
  }
  return afSinceYear < birthYear
    ? [
        refusal(
          'baseline.afSinceYear',
          `${label}: ${afSinceYear} is before the birth year, ${birthYear}. Check the year.`,
        ),
      ]
    : [];
}
