import 'server-only';
import { caseCode } from '../../registry/cohort';
import type { Actor } from '../actor';
import { database, type Prisma } from '../database';
import { dateFromDay, dayFromDate } from '../day-edge';

/** Filters of the register; all may be absent. Codes are those of the vocabulary, checked by the caller's schema. */
export interface CaseFilter {
  readonly afType?: string;
  readonly strategy?: string;
  readonly operatorCode?: string;
  readonly year?: number;
  readonly sequence?: 'first' | 'repeat';
}

export interface CaseListRow {
  readonly id: string;
  readonly caseCode: string;
  readonly performedOn: string;
  readonly operatorCode: string | null;
  readonly afType: string | null;
  readonly intendedStrategy: string | null;
  readonly derivedStrategy: string;
  readonly energy: string | null;
  readonly daysToLastContact: number;
  readonly diedAfterDays: number | null;
}

export interface CaseList {
  readonly total: number;
  readonly rows: readonly CaseListRow[];
}

/** One screenful of the register, latest procedure first, and how many cases match in all. */
export async function readCaseList(
  actor: Actor,
  filter: CaseFilter,
  skip: number,
  take: number,
): Promise<CaseList> {
  const where = whereOf(actor.labId, filter);
  const [total, rows] = await Promise.all([
    database().analysisRow.count({ where }),
    database().analysisRow.findMany({
      where,
      orderBy: [{ performedOn: 'desc' }, { patientCode: 'asc' }, { ordinal: 'asc' }],
      omit: { evidence: true },
      skip,
      take,
    }),
  ]);
  return {
    total,
    rows: rows.map((row) => ({
      id: row.procedureId,
      caseCode: caseCode(row.patientCode, row.ordinal),
      performedOn: dayFromDate(row.performedOn),
      operatorCode: row.operatorCode,
      afType: row.afType,
      intendedStrategy: row.intendedStrategy,
      derivedStrategy: row.derivedStrategy,
      energy: row.energy,
      daysToLastContact: row.daysToLastContact,
      diedAfterDays: row.daysToDeath,
    })),
  };
}

/** Patients of the lab without any procedure: registered, nothing to follow yet. */
export function readPatientsWithoutCase(actor: Actor): Promise<{ id: string; code: string }[]> {
  return database().patient.findMany({
    where: { labId: actor.labId, procedures: { none: {} } },
    select: { id: true, code: true },
    orderBy: { createdAt: 'desc' },
    take: 50,
  });
}

/** How many cases the lab has: the count beside "Cases". */
export function countCases(actor: Actor): Promise<number> {
  return database().analysisRow.count({ where: { labId: actor.labId } });
}

function whereOf(labId: string, filter: CaseFilter): Prisma.AnalysisRowWhereInput {
  return {
    labId,
    ...(filter.afType === undefined ? {} : { afType: filter.afType }),
    ...(filter.strategy === undefined ? {} : { intendedStrategy: filter.strategy }),
    ...(filter.operatorCode === undefined ? {} : { operatorCode: filter.operatorCode }),
    ...(filter.sequence === undefined ? {} : { ordinal: filter.sequence === 'first' ? 1 : { gt: 1 } }),
    ...(filter.year === undefined
      ? {}
      : {
          performedOn: { gte: dateFromDay(`${filter.year}-01-01`), lte: dateFromDay(`${filter.year}-12-31`) },
        }),
  };
}
