import 'server-only';
import type { Actor } from '../actor';
import { database } from '../database';

export interface PastImport {
  readonly id: string;
  readonly source: string;
  /** First 12 hex digits of the file's SHA-256. */
  readonly fingerprint: string;
  readonly rows: number;
  readonly published: number;
  readonly refused: number;
  /** A file that is written patient by patient and was stopped on the way; null: it is written whole. */
  readonly stoppedAt: { readonly done: number; readonly planned: number } | null;
  /** UTC instant. */
  readonly at: string;
}

/** Imports of the lab, latest first, at most 50. */
export async function readImports(actor: Actor): Promise<PastImport[]> {
  const rows = await database().importBatch.findMany({
    where: { labId: actor.labId },
    orderBy: { createdAt: 'desc' },
    take: 50,
  });
  return rows.map((row) => ({
    id: row.id,
    source: row.source,
    fingerprint: Buffer.from(row.fileSha256).toString('hex').slice(0, 12),
    rows: row.rows,
    published: row.published,
    refused: row.refused,
    stoppedAt: stoppedAt(row.patientsDone, row.patientsPlanned),
    at: row.createdAt.toISOString(),
  }));
}

const stoppedAt = (done: number | null, planned: number | null): PastImport['stoppedAt'] =>
  done === null || planned === null || done >= planned ? null : { done, planned };

/** How far the file with these bytes has come: patients written, of those to write. Null when it was never begun. */
export async function readImportProgress(
  actor: Actor,
  fileSha256: Uint8Array<ArrayBuffer>,
): Promise<{ readonly done: number; readonly planned: number } | null> {
  const row = await database().importBatch.findFirst({
    where: { labId: actor.labId, fileSha256, patientsPlanned: { not: null } },
    select: { patientsDone: true, patientsPlanned: true },
  });
  return row ? { done: row.patientsDone ?? 0, planned: row.patientsPlanned ?? 0 } : null;
}
