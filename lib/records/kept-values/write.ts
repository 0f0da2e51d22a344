import 'server-only';
import { randomUUID } from 'node:crypto';
import type { OpenWrite } from '../record';

/** A value outside its usual range that stays, and why: `field` is the path in its form, `reason` a code of KEEP_REASONS. */
export interface KeptValueEntry {
  readonly field: string;
  readonly value: string;
  readonly reason: string;
}

/**
 * Stores the reasons for the unusual values of one form, and takes away those of values that are usual by now. `prefix`
 * keeps the forms of a case apart: '' is that of procedure and baseline.
 */
export async function keepValues(
  { tx, labId, note }: OpenWrite,
  procedure: { readonly id: string; readonly patientId: string },
  entries: readonly KeptValueEntry[],
  prefix = '',
): Promise<void> {
  const { id: procedureId, patientId } = procedure;
  const stored = await tx.keptValue.findMany({ where: { labId, procedureId } });
  const mine = stored.filter((row) =>
    prefix === '' ? !row.field.includes(':') : row.field.startsWith(`${prefix}:`),
  );
  const wanted = new Map(
    entries.map((entry) => [prefix === '' ? entry.field : `${prefix}:${entry.field}`, entry]),
  );
  for (const before of mine) {
    const key = { labId_id: { labId, id: before.id } };
    const entry = wanted.get(before.field);
    wanted.delete(before.field);
    if (entry && entry.value === before.value && entry.reason === before.reason) continue;
    const after = entry
      ? await tx.keptValue.update({
          where: key,
          data: { value: entry.value, reason: entry.reason, version: { increment: 1 } },
        })
      : null;
    if (after === null) await tx.keptValue.delete({ where: key });
    note({ entity: 'kept_values', entityId: before.id, patientId, before, after });
  }
  for (const [field, { value, reason }] of wanted) {
    const after = await tx.keptValue.create({
      data: { labId, id: randomUUID(), procedureId, field, value, reason },
    });
    note({ entity: 'kept_values', entityId: after.id, patientId, before: null, after });
  }
}
