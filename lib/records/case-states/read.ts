import 'server-only';
import { CASE_STATES, type CaseCompleteness } from '../../registry/case-state';
import type { Actor } from '../actor';
import { database } from '../database';
import { decodeCode } from '../decode';
import { procedureValuesByPath } from '../procedures/form-values';

export interface CaseStanding extends CaseCompleteness {
  readonly version: number;
  /** Code of the person who signed, and when (UTC); null before. */
  readonly signed: { readonly by: string; readonly at: string } | null;
  /** Last change of what was signed (UTC); null without. */
  readonly amendedAt: string | null;
}

/** How far a case has come and what its next state looks at; null when the lab has no such case. */
export async function readCaseStanding(actor: Actor, procedureId: string): Promise<CaseStanding | null> {
  const { labId } = actor;
  const db = database();
  const row = await db.procedure.findUnique({
    where: { labId_id: { labId, id: procedureId } },
    include: { baseline: true, lesionElements: { select: { state: true } } },
  });
  if (!row) return null;
  const [analysis, signer] = await Promise.all([
    db.analysisRow.findUnique({
      where: { labId_procedureId: { labId, procedureId } },
      select: { derivedStrategy: true },
    }),
    row.signedById === null
      ? null
      : db.user.findUnique({
          where: { labId_id: { labId, id: row.signedById } },
          select: { code: true },
        }),
  ]);
  const { baseline, lesionElements } = row;
  const derived = analysis?.derivedStrategy ?? null;
  return {
    version: row.version,
    state: decodeCode(CASE_STATES, row.state),
    values: procedureValuesByPath(row, baseline),
    lesions: {
      elements: lesionElements.length,
      notRecorded: lesionElements.filter(({ state }) => state === 'not-recorded').length,
      entranceBlock: row.entranceBlock,
      isSingleShot: derived === 'single-shot',
    },
    strategy: { intended: row.intendedStrategy, derived, settled: row.settledStrategy },
    signed: row.signedAt && signer ? { by: signer.code, at: row.signedAt.toISOString() } : null,
    amendedAt: row.amendedAt?.toISOString() ?? null,
  };
}
