import { z } from 'zod';
import { DEATH_CAUSES, DEATH_RELATIONS, SEXES } from '../vocabulary';
import { amendmentShape } from './amendment';
import { choiceEntry, codeEntry, dayEntry, requiredChoiceEntry, requiredNumberEntry } from './entries';
import { PATIENT_LABELS } from './field-labels';

/**
 * A patient: a birth year and a sex, never a name or a day of birth. The hospital number is for searching only: the server
 * keeps its keyed hash and drops the text; it is upper-cased and loses its blanks here, so that one number has one hash.
 */
const shape = {
  birthYear: requiredNumberEntry({
    label: PATIENT_LABELS.birthYear,
    unit: '',
    min: 1890,
    max: 2100,
    decimals: 0,
  }),
  sex: requiredChoiceEntry(PATIENT_LABELS.sex, SEXES),
  hospitalNumber: codeEntry(
    PATIENT_LABELS.hospitalNumber,
    /^[\p{L}\p{N}][\p{L}\p{N} ./-]{1,39}$/u,
    'Use 2 to 40 letters, figures, blanks, points, strokes or hyphens; only its keyed hash is kept.',
  ).transform((text) => (text === null ? null : text.normalize('NFKC').toUpperCase().replaceAll(' ', ''))),
  regionCode: codeEntry(
    PATIENT_LABELS.regionCode,
    /^[A-Z0-9][A-Z0-9-]{0,11}$/,
    'Use the code of the region: up to 12 capital letters, figures or hyphens, no names.',
  ),
  diedOn: dayEntry(PATIENT_LABELS.diedOn),
  deathCause: choiceEntry(PATIENT_LABELS.deathCause, DEATH_CAUSES),
  deathRelated: choiceEntry(PATIENT_LABELS.deathRelated, DEATH_RELATIONS),
  consentWithdrawnOn: dayEntry(PATIENT_LABELS.consentWithdrawnOn),
  transferredOn: dayEntry(PATIENT_LABELS.transferredOn),
};

interface DeathFields {
  readonly diedOn: unknown;
  readonly deathCause: unknown;
  readonly deathRelated: unknown;
}

function checkDeath(patient: DeathFields, context: z.core.$RefinementCtx): void {
  if (patient.diedOn !== null) return;
  const ask = 'Give the day of death, or clear this field.';
  if (typeof patient.deathCause === 'string') {
    context.addIssue({
      code: 'custom',
      path: ['deathCause'],
      message: `${PATIENT_LABELS.deathCause}: there is no day of death. ${ask}`,
    });
  }
  if (typeof patient.deathRelated === 'string') {
    context.addIssue({
      code: 'custom',
      path: ['deathRelated'],
      message: `${PATIENT_LABELS.deathRelated}: there is no day of death. ${ask}`,
    });
  }
}

export const patientFormSchema = z.strictObject(shape).superRefine(checkDeath);
export const patientAmendmentSchema = z.strictObject({ ...shape, ...amendmentShape }).superRefine(checkDeath);

export type PatientFormInput = z.input<typeof patientFormSchema>;
export type PatientForm = z.output<typeof patientFormSchema>;
export type PatientAmendmentInput = z.input<typeof patientAmendmentSchema>;
export type PatientAmendment = z.output<typeof patientAmendmentSchema>;

export const emptyPatientForm = {
  birthYear: '',
  sex: '',
  hospitalNumber: '',
  regionCode: '',
  diedOn: '',
  deathCause: '',
  deathRelated: '',
  consentWithdrawnOn: '',
  transferredOn: '',
} satisfies PatientFormInput;
