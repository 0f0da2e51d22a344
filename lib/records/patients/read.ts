import 'server-only';
import type { PatientFormInput } from '../../registry/forms/patient-form';
import { normalisePatientCode } from '../../registry/patient-code';
import type { Actor } from '../actor';
import { database } from '../database';
import { dayFromDate } from '../day-edge';
import { hashOutsideNumber } from '../sealing';
import { patientFormValues } from './form-values';

export interface PatientForEditing {
  readonly id: string;
  readonly code: string;
  readonly version: number;
  readonly hasHospitalNumber: boolean;
  readonly procedures: readonly {
    readonly id: string;
    readonly ordinal: number;
    readonly performedOn: string;
  }[];
  readonly values: PatientFormInput;
}

/** A patient as the form shows it; null when the lab has none with this id. */
export async function readPatientForEditing(actor: Actor, id: string): Promise<PatientForEditing | null> {
  const row = await database().patient.findUnique({
    where: { labId_id: { labId: actor.labId, id } },
    include: {
      procedures: { select: { id: true, ordinal: true, performedOn: true }, orderBy: { ordinal: 'asc' } },
    },
  });
  if (!row) return null;
  return {
    id,
    code: row.code,
    version: row.version,
    hasHospitalNumber: row.hospitalNumberHash !== null,
    procedures: row.procedures.map((procedure) => ({
      ...procedure,
      performedOn: dayFromDate(procedure.performedOn),
    })),
    values: patientFormValues(row),
  };
}

export interface FoundPatient {
  readonly id: string;
  readonly code: string;
  /** Latest case, to open; null while no procedure is recorded. */
  readonly latestCaseId: string | null;
  /** The hospital number matched under a key that is no longer the newest: the caller may re-hash it. */
  readonly matchedOlderKey: boolean;
}

/**
 * Patients whose code begins with the text (at most 20), or the one whose hospital number it is. The number is compared
 * as a keyed hash under every key; a match under an older key is found all the same.
 */
export async function findPatients(actor: Actor, text: string): Promise<FoundPatient[]> {
  const { labId } = actor;
  const typed = text.trim();
  if (typed === '') return [];
  const code = normalisePatientCode(typed) ?? beginningOfCode(typed);
  const hashes = hashOutsideNumber(labId, 'hospital-number', typed);
  const rows = await database().patient.findMany({
    where: {
      labId,
      OR: [
        ...(code === null ? [] : [{ code: { startsWith: code } }]),
        ...hashes.map(({ hash, keyId }) => ({ hospitalNumberHash: hash, hospitalNumberKeyId: keyId })),
      ],
    },
    select: {
      id: true,
      code: true,
      hospitalNumberHash: true,
      hospitalNumberKeyId: true,
      procedures: { select: { id: true }, orderBy: { ordinal: 'desc' }, take: 1 },
    },
    orderBy: { code: 'asc' },
    take: 20,
  });
  const older = hashes.slice(1);
  return rows.map((row) => ({
    id: row.id,
    code: row.code,
    latestCaseId: row.procedures[0]?.id ?? null,
    matchedOlderKey: older.some(
      ({ hash, keyId }) =>
        row.hospitalNumberKeyId === keyId &&
        row.hospitalNumberHash !== null &&
        Buffer.from(hash).equals(row.hospitalNumberHash),
    ),
  }));
}

/** The written form of the beginning of a code ('p4kx' -> 'P-4KX'), or null when the text cannot begin one. */
function beginningOfCode(typed: string): string | null {
  const match = /^P-?([0-9A-Z]{2,8})(-[0-9A-Z]?)?$/.exec(typed.toUpperCase().replaceAll(/\s/g, ''));
  return match ? `P-${match[1]}${match[2] ?? ''}` : null;
}
