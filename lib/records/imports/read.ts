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
    at: row.createdAt.toISOString(),
  }));
}
