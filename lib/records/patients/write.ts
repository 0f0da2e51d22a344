import 'server-only';
import { randomBytes, randomUUID } from 'node:crypto';
import type { PatientAmendment, PatientForm } from '../../registry/forms/patient-form';
import { makePatientCode } from '../../registry/patient-code';
import { ApplicationError, StaleEdit } from '../../runtime/application-error';
import type { Actor } from '../actor';
import type { Transaction } from '../database';
import { dateFromDayOrNull } from '../day-edge';
import { type FormRequest, record } from '../record';
import { hashOutsideNumber, makePatientKey } from '../sealing';
import { patientFormValues } from './form-values';

export type WrittenPatient = { readonly id: string; readonly code: string; readonly version: number };

/** Registers a patient under a new code and with a key of their own. The hospital number leaves a keyed hash only. */
export function createPatient(
  actor: Actor,
  form: PatientForm,
  request: FormRequest,
): Promise<WrittenPatient> {
  return record<WrittenPatient>(
    actor,
    { action: 'patient.create', reason: 'entered', request },
    async (open) => {
      const { tx, labId } = open;
      const id = randomUUID();
      const number = await numberColumns(tx, labId, form.hospitalNumber, null);
      const code = await freeCode(tx, labId);
      const row = await tx.patient.create({ data: { labId, id, code, ...columnsOf(form), ...number } });
      const { wrapped, masterKeyId } = makePatientKey();
      await tx.patientKey.create({ data: { labId, patientId: id, wrappedKey: wrapped, masterKeyId } });
      open.note({ entity: 'patients', entityId: id, patientId: id, before: null, after: row });
      return { id, code, version: row.version };
    },
  );
}

/** Changes a patient's entry. An empty hospital number leaves the stored hash as it is. Throws StaleEdit. */
export function amendPatient(
  actor: Actor,
  id: string,
  form: PatientAmendment,
  request: FormRequest,
): Promise<WrittenPatient> {
  const order = { action: 'patient.amend', reason: form.reason, patientId: id, request };
  return record<WrittenPatient>(actor, order, async ({ tx, labId, note }) => {
    const key = { labId_id: { labId, id } };
    const before = await tx.patient.findUniqueOrThrow({ where: key });
    if (before.version !== form.version) throw new StaleEdit(before.version, patientFormValues(before));
    const number = await numberColumns(tx, labId, form.hospitalNumber, id);
    const after = await tx.patient.update({
      where: key,
      data: { ...columnsOf(form), ...number, version: { increment: 1 } },
    });
    note({ entity: 'patients', entityId: id, patientId: id, before, after });
    return { id, code: after.code, version: after.version };
  });
}

function columnsOf(form: PatientForm) {
  return {
    birthYear: form.birthYear,
    sex: form.sex,
    regionCode: form.regionCode,
    diedOn: dateFromDayOrNull(form.diedOn),
    deathCause: form.deathCause,
    deathRelated: form.deathRelated,
    consentWithdrawnOn: dateFromDayOrNull(form.consentWithdrawnOn),
    transferredOn: dateFromDayOrNull(form.transferredOn),
  };
}

async function freeCode(tx: Transaction, labId: string): Promise<string> {
  for (let attempt = 0; attempt < 20; attempt += 1) {
    const code = makePatientCode(randomBytes(16));
    if (!(await tx.patient.findUnique({ where: { labId_code: { labId, code } }, select: { id: true } })))
      return code;
  }
  throw new ApplicationError('internal', 'No free patient code was found.');
}

async function numberColumns(tx: Transaction, labId: string, number: string | null, own: string | null) {
  if (number === null) return {};
  const hashes = hashOutsideNumber(labId, 'hospital-number', number);
  const taken = await tx.patient.findFirst({
    where: {
      labId,
      OR: hashes.map(({ hash, keyId }) => ({ hospitalNumberHash: hash, hospitalNumberKeyId: keyId })),
      ...(own === null ? {} : { NOT: { id: own } }),
    },
  });
  if (taken) {
    const message = `Hospital number: it is already registered, for ${taken.code}. Open that patient instead, or mend the number.`;
    throw new ApplicationError('invalid', message, [{ field: 'hospitalNumber', message }]);
  }
  const [newest] = hashes;
  return newest ? { hospitalNumberHash: newest.hash, hospitalNumberKeyId: newest.keyId } : {};
}
