import 'server-only';
import type { Actor } from '../actor';
import { database } from '../database';

/** One case's packed evidence (lib/registry/rhythm-evidence.ts) and what ends its time; null when the lab has no such case. */
export interface CaseEvidence {
  readonly evidence: readonly number[];
  readonly daysToNext: number | null;
  readonly daysToDeath: number | null;
}

export async function readCaseEvidence(actor: Actor, procedureId: string): Promise<CaseEvidence | null> {
  return database().analysisRow.findUnique({
    where: { labId_procedureId: { labId: actor.labId, procedureId } },
    select: { evidence: true, daysToNext: true, daysToDeath: true },
  });
}
