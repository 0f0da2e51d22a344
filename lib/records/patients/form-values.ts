import 'server-only';
import type { PatientFormInput } from '../../registry/forms/patient-form';
import { dayFromDateOrNull } from '../day-edge';
import type { Patient } from '../generated/client';

/** A stored patient as the form holds it. The hospital number is not stored, so it is not among the values. */
export function patientFormValues(row: Patient) {
  return {
    birthYear: String(row.birthYear),
    sex: row.sex,
    regionCode: row.regionCode ?? '',
    diedOn: dayFromDateOrNull(row.diedOn) ?? '',
    deathCause: row.deathCause ?? '',
    deathRelated: row.deathRelated ?? '',
    consentWithdrawnOn: dayFromDateOrNull(row.consentWithdrawnOn) ?? '',
    transferredOn: dayFromDateOrNull(row.transferredOn) ?? '',
  } satisfies Partial<PatientFormInput>;
}
