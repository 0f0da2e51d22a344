import 'server-only';
import type { CalendarDay } from '../../registry/calendar-day';
import type { CaseState } from '../../registry/case-state';
import { caseCode } from '../../registry/cohort';
import type { Actor } from '../actor';
import { database } from '../database';
import { dayFromDate } from '../day-edge';

export interface UnfinishedCase {
  readonly id: string;
  readonly caseCode: string;
  readonly performedOn: CalendarDay;
  readonly operatorCode: string | null;
}

/** Cases that have come so far and no farther, the oldest procedure first, and how many there are in all. */
export async function readCasesInState(
  actor: Actor,
  state: Exclude<CaseState, 'signed'>,
  skip: number,
  take: number,
): Promise<{ total: number; rows: UnfinishedCase[] }> {
  const where = { labId: actor.labId, state };
  const [total, rows] = await Promise.all([
    database().procedure.count({ where }),
    database().procedure.findMany({
      where,
      select: {
        id: true,
        ordinal: true,
        performedOn: true,
        patient: { select: { code: true } },
        operator: { select: { code: true } },
      },
      orderBy: [{ performedOn: 'asc' }, { id: 'asc' }],
      skip,
      take,
    }),
  ]);
  return {
    total,
    rows: rows.map((row) => ({
      id: row.id,
      caseCode: caseCode(row.patient.code, row.ordinal),
      performedOn: dayFromDate(row.performedOn),
      operatorCode: row.operator?.code ?? null,
    })),
  };
}
