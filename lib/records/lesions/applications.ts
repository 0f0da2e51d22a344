import 'server-only';
import { randomUUID } from 'node:crypto';
import type { RfApplication } from '../../registry/rf-applications';
import { canonicalJson } from '../audit-chain';
import type { OpenWrite } from '../record';
import { applicationOf } from './stored-lesions';

/** Puts the applications of a file in the place of those stored; rows that are the same stay untouched. */
export async function replaceApplications(
  { tx, labId, note }: OpenWrite,
  { id: procedureId, patientId }: { readonly id: string; readonly patientId: string },
  applications: readonly RfApplication[],
): Promise<void> {
  const stored = await tx.rfApplication.findMany({
    where: { labId, procedureId },
    orderBy: { number: 'asc' },
  });
  const byNumber = new Map(stored.map((row) => [row.number, row]));
  const entity = 'rf_applications';
  for (const [index, application] of applications.entries()) {
    const number = index + 1;
    const before = byNumber.get(number);
    byNumber.delete(number);
    if (before === undefined) {
      const id = randomUUID();
      const after = await tx.rfApplication.create({
        data: { labId, id, procedureId, number, ...application },
      });
      note({ entity, entityId: id, patientId, before: null, after });
    } else if (canonicalJson(applicationOf(before)) !== canonicalJson(application)) {
      const after = await tx.rfApplication.update({
        where: { labId_id: { labId, id: before.id } },
        data: { ...application, version: { increment: 1 } },
      });
      note({ entity, entityId: before.id, patientId, before, after });
    }
  }
  for (const before of byNumber.values()) {
    await tx.rfApplication.delete({ where: { labId_id: { labId, id: before.id } } });
    note({ entity, entityId: before.id, patientId, before, after: null });
  }
}
