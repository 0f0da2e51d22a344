import 'server-only';
import { z } from 'zod';
import type { Actor } from '../actor';
import { database } from '../database';
import { decrypt, unwrapPatientKey } from '../sealing';

export interface HistoryEntry {
  readonly seq: string;
  /** UTC instant. */
  readonly at: string;
  /** Code of the person, or the program's name. */
  readonly who: string;
  readonly action: string;
  readonly entity: string;
  readonly reason: string;
  /** Fields that differ, as stored texts; a new row lists what it began with. */
  readonly changes: readonly { readonly field: string; readonly from: string; readonly to: string }[];
}

const payloadSchema = z.object({
  reason: z.string(),
  before: z.record(z.string(), z.unknown()).nullable(),
  after: z.record(z.string(), z.unknown()).nullable(),
});

/** Columns that every row carries and nobody reads. */
const SILENT = new Set([
  'labId',
  'id',
  'version',
  'createdAt',
  'patientId',
  'procedureId',
  'procedurePerformedOn',
]);
const HIDDEN = new Set(['hospitalNumberHash', 'hospitalNumberKeyId', 'importReferenceHash']);

/** The trail of one patient, latest first, at most 200 entries; empty after erasure, when the key is gone. */
export async function readHistory(actor: Actor, patientId: string): Promise<HistoryEntry[]> {
  const { labId } = actor;
  const db = database();
  const [key, entries, people] = await Promise.all([
    db.patientKey.findUnique({ where: { labId_patientId: { labId, patientId } } }),
    db.auditEntry.findMany({ where: { labId, patientId }, orderBy: { seq: 'desc' }, take: 200 }),
    db.user.findMany({ where: { labId }, select: { id: true, code: true } }),
  ]);
  if (!key || key.wrappedKey === null) return [];
  const opened = unwrapPatientKey(key.wrappedKey, key.masterKeyId);
  const codes = new Map(people.map((person) => [person.id, person.code]));
  return entries.map((entry) => {
    const payload = payloadSchema.parse(JSON.parse(decrypt(opened, entry.payload).toString('utf8')));
    return {
      seq: entry.seq.toString(),
      at: entry.at.toISOString(),
      who: codes.get(entry.actorId) ?? entry.actorId,
      action: entry.action,
      entity: entry.entity,
      reason: payload.reason,
      changes: changesOf(payload.before ?? {}, payload.after ?? {}),
    };
  });
}

function changesOf(before: Record<string, unknown>, after: Record<string, unknown>): HistoryEntry['changes'] {
  const fields = [...new Set([...Object.keys(before), ...Object.keys(after)])].sort();
  return fields.flatMap((field) => {
    if (SILENT.has(field)) return [];
    const [from, to] = [textOf(before[field]), textOf(after[field])];
    if (from === to) return [];
    return HIDDEN.has(field) ? [{ field, from: 'hidden', to: 'hidden' }] : [{ field, from, to }];
  });
}

function textOf(value: unknown): string {
  if (value === null || value === undefined) return '';
  const text = typeof value === 'object' ? JSON.stringify(value) : String(value);
  return /^\d{4}-\d{2}-\d{2}T00:00:00\.000Z$/.test(text) ? text.slice(0, 10) : text;
}
