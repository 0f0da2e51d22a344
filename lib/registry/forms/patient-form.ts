import { z } from 'zod';
import { DEATH_CAUSES, DEATH_RELATIONS, SEXES } from '../vocabulary';
import { amendmentShape } from './amendment';
import { choiceEntry, codeEntry, dayEntry, requiredChoiceEntry, requiredNumberEntry } from './entries';

/**
 * A patient: a birth year and a sex, never a name or a day of birth. The hospital number is for searching only: the server
 * keeps its keyed hash and drops the text; it is upper-cased and loses its blanks here, so that one number has one hash.
 */
const shape = {
  birthYear: requiredNumberEntry({ label: 'Birth year', unit: '', min: 1890, max: 2100, decimals: 0 }),
  sex: requiredChoiceEntry('Sex', SEXES),
  hospitalNumber: codeEntry(
    'Hospital number',
    /^[\p{L}\p{N}][\p{L}\p{N} ./-]{1,39}$/u,
    'Use 2 to 40 letters, figures, blanks, points, strokes or hyphens; only its keyed hash is kept.',
  ).transform((text) => (text === null ? null : text.normalize('NFKC').toUpperCase().replaceAll(' ', ''))),
  regionCode: codeEntry(
    'Referring region',
    /^[A-Z0-9][A-Z0-9-]{0,11}$/,
    'Use the code of the region: up to 12 capital letters, figures or hyphens, no names.',
  ),
  diedOn: dayEntry('Day of death'),
  deathCause: choiceEntry('Cause of death', DEATH_CAUSES),
  deathRelated: choiceEntry('Relation of death to the procedure', DEATH_RELATIONS),
  consentWithdrawnOn: dayEntry('Consent withdrawn on'),
  transferredOn: dayEntry('Transferred on'),
};

interface DeathFields {
  readonly diedOn: unknown;
  readonly deathCause: unknown;
  readonly deathRelated: unknown;
}

function checkDeath(patient: DeathFields, context: z.core.$RefinementCtx): void {
  if (patient.diedOn !== null) return;
  const ask = 'Give the day of death, or clear this field.';
  if (patient.deathCause !== null) {
    context.addIssue({
      code: 'custom',
      path: ['deathCause'],
      message: `Cause of death: there is no day of death. ${ask}`,
    });
  }
  if (patient.deathRelated !== null) {
    context.addIssue({
      code: 'custom',
      path: ['deathRelated'],
      message: `Relation of death to the procedure: there is no day of death. ${ask}`,
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
