import 'server-only';
import type { LesionContext } from '../../registry/forms/lesion-checks';
import type { StoredLesions } from '../../registry/forms/lesion-values';
import type { RfApplication } from '../../registry/rf-applications';
import type { Actor } from '../actor';
import { database } from '../database';
import { dayFromDate } from '../day-edge';
import { decodeEnergy } from '../decode';
import { applicationOf, KEPT_PREFIX, storedLesionsOf } from './stored-lesions';

export interface CaseLesions {
  readonly id: string;
  readonly patientId: string;
  readonly version: number;
  readonly stored: StoredLesions;
  /** Single applications in their order; none where no file brought them. */
  readonly applications: readonly RfApplication[];
  /** Unusual values of the set that were kept, by path, with the reason. */
  readonly kept: readonly { readonly field: string; readonly reason: string }[];
  /** What a set of this case is checked against, the patient's earlier sets among it. */
  readonly context: LesionContext;
}

/** The lesion set of a case, and those of the patient's earlier cases in order; null when the lab has no such case. */
export async function readLesions(actor: Actor, procedureId: string): Promise<CaseLesions | null> {
  const { labId } = actor;
  const row = await database().procedure.findUnique({
    where: { labId_id: { labId, id: procedureId } },
    include: {
      lesionElements: true,
      keptValues: true,
      rfApplications: { orderBy: { number: 'asc' } },
    },
  });
  if (!row) return null;
  const earlier = await database().procedure.findMany({
    where: { labId, patientId: row.patientId, ordinal: { lt: row.ordinal } },
    include: { lesionElements: true },
    orderBy: { ordinal: 'asc' },
  });
  return {
    id: row.id,
    patientId: row.patientId,
    version: row.version,
    stored: storedLesionsOf(row, row.lesionElements),
    applications: row.rfApplications.map(applicationOf),
    kept: row.keptValues
      .filter(({ field }) => field.startsWith(`${KEPT_PREFIX}:`))
      .map(({ field, reason }) => ({ field: field.slice(KEPT_PREFIX.length + 1), reason })),
    context: {
      ordinal: row.ordinal,
      energy: decodeEnergy(row.energy),
      deviceType: row.deviceType,
      intendedStrategy: row.intendedStrategy,
      needsReason: row.lesionElements.length > 0 || row.state === 'signed',
      earlier: earlier.map((other) => ({
        ordinal: other.ordinal,
        performedOn: dayFromDate(other.performedOn),
        elements: storedLesionsOf(other, other.lesionElements).elements,
      })),
    },
  };
}
