import 'server-only';
import type { Actor } from '../actor';
import { record } from '../record';
import { hashOutsideNumber } from '../sealing';

/** Moves a patient's hospital number from an older key to the newest, once a search has shown the number again. */
export async function rehashHospitalNumber(actor: Actor, patientId: string, number: string): Promise<void> {
  const [newest, ...older] = hashOutsideNumber(actor.labId, 'hospital-number', number);
  if (!newest || older.length === 0) return;
  const order = { action: 'patient.rehash', reason: 'key-rotation', patientId };
  await record(actor, order, async ({ tx, labId, note }) => {
    const hospitalNumber = { hospitalNumberHash: newest.hash, hospitalNumberKeyId: newest.keyId };
    const before = await tx.patient.findUniqueOrThrow({ where: { labId_id: { labId, id: patientId } } });
    const after = await tx.patient.update({
      where: { labId_id: { labId, id: patientId } },
      data: hospitalNumber,
    });
    note({ entity: 'patients', entityId: patientId, patientId, before, after });
    return { id: patientId };
  });
}
