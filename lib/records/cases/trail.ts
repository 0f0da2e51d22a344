import 'server-only';
import { z } from 'zod';
import type { Actor } from '../actor';
import { database } from '../database';
import { decrypt, unwrapPatientKey } from '../sealing';

const rowSchema = z.record(z.string(), z.unknown()).nullable();
const payloadSchema = z.object({ reason: z.string(), before: rowSchema, after: rowSchema });

export interface OpenedEntry {
  readonly seq: bigint;
  readonly at: Date;
  readonly actorId: string;
  readonly action: string;
  readonly entity: string;
  readonly entityId: string;
  readonly payload: z.infer<typeof payloadSchema>;
}

/**
 * The trail of one patient, opened, in its order: from `fromSeq` on, or the last `take` entries. Null after erasure, when
 * the key is gone. What a bulk load brought stands in the lab's trail as a whole and is not among them.
 */
export async function openedTrail(
  { labId }: Actor,
  patientId: string,
  fromSeq: bigint,
  take?: number,
): Promise<OpenedEntry[] | null> {
  const db = database();
  const [key, entries] = await Promise.all([
    db.patientKey.findUnique({ where: { labId_patientId: { labId, patientId } } }),
    db.auditEntry.findMany({
      where: { labId, patientId, seq: { gte: fromSeq } },
      orderBy: { seq: 'desc' },
      ...(take === undefined ? {} : { take }),
    }),
  ]);
  if (!key || key.wrappedKey === null) return null;
  const opened = unwrapPatientKey(key.wrappedKey, key.masterKeyId);
  return entries.reverse().map(({ seq, at, actorId, action, entity, entityId, payload }) => ({
    seq,
    at,
    actorId,
    action,
    entity,
    entityId,
    payload: payloadSchema.parse(JSON.parse(decrypt(opened, payload).toString('utf8'))),
  }));
}
