import { type CalendarDay, daysBetween } from '../calendar-day';
import { type Finding, refusal, warning } from '../findings';
import { PATIENT_LABELS } from './field-labels';
import type { PatientForm } from './patient-form';

export interface PatientContext {
  readonly today: CalendarDay;
  /** Procedures already stored. */
  readonly procedures: readonly { readonly performedOn: CalendarDay; readonly ageYears: number | null }[];
  /** The latest day on which the patient was seen, treated or recorded; null when never. */
  readonly lastSeenOn: CalendarDay | null;
}

const yearOf = (day: CalendarDay): number => Number(day.slice(0, 4));

/** Completed years on a day can only be one of two numbers when just the birth year is known. */
export function isAgePossible(birthYear: number, day: CalendarDay, ageYears: number): boolean {
  const older = yearOf(day) - birthYear;
  return ageYears === older || ageYears === older - 1;
}

/** What speaks against a patient's entry once the stored history and today's date are known. */
export function checkPatientAgainstHistory(patient: PatientForm, context: PatientContext): Finding[] {
  const { today, procedures, lastSeenOn } = context;
  const found: Finding[] = [];
  if (patient.birthYear > yearOf(today)) {
    found.push(
      refusal(
        'birthYear',
        `${PATIENT_LABELS.birthYear}: ${patient.birthYear} lies in the future. Check the year.`,
      ),
    );
  } else if (yearOf(today) - patient.birthYear > 105) {
    found.push(
      warning(
        'birthYear',
        `${PATIENT_LABELS.birthYear}: ${patient.birthYear} is unusually long ago. Check the year, or keep it.`,
      ),
    );
  }
  for (const { performedOn, ageYears } of procedures) {
    if (ageYears === null || isAgePossible(patient.birthYear, performedOn, ageYears)) continue;
    found.push(
      refusal(
        'birthYear',
        `${PATIENT_LABELS.birthYear}: ${patient.birthYear} does not fit the age of ${ageYears} recorded on ${performedOn}. Check the year, or mend that age first.`,
      ),
    );
  }
  for (const field of ['diedOn', 'consentWithdrawnOn', 'transferredOn'] as const) {
    const day = patient[field];
    if (day === null) continue;
    if (daysBetween(today, day) > 0) {
      found.push(
        refusal(
          field,
          `${PATIENT_LABELS[field]}: ${day} lies in the future. Give a day up to today, ${today}.`,
        ),
      );
    }
    if (yearOf(day) < patient.birthYear) {
      found.push(
        refusal(
          field,
          `${PATIENT_LABELS[field]}: ${day} is before the birth year, ${patient.birthYear}. Mend one of the two.`,
        ),
      );
    }
  }
  if (patient.diedOn !== null && lastSeenOn !== null && daysBetween(patient.diedOn, lastSeenOn) > 0) {
    found.push(
      refusal(
        'diedOn',
        `${PATIENT_LABELS.diedOn}: ${patient.diedOn} is before ${lastSeenOn}, the last day recorded for this patient. Check both days.`,
      ),
    );
  }
  return found;
}
