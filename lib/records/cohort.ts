import 'server-only';
import { toEpochDay } from '../registry/calendar-day';
import type { Cohort, CohortColumn } from '../registry/cohort';
import { RecentCache } from '../runtime/cache';
import type { Actor } from './actor';
import { database } from './database';
import { dayFromDate } from './day-edge';
import type { AnalysisRow } from './generated/client';

const cohorts = new RecentCache<Cohort>(8);

/** The lab's data version: raised by every write, so a key for everything derived from the data. */
export async function readDataVersion(actor: Actor): Promise<string> {
  const head = await database().auditHead.findUniqueOrThrow({ where: { labId: actor.labId } });
  return head.dataVersion.toString();
}

/** All cases of the actor's lab as columns, kept in memory by data version: a new definition or filter costs no query. */
export async function readCohort(actor: Actor): Promise<Cohort> {
  const dataVersion = await readDataVersion(actor);
  const key = `${actor.labId}:${dataVersion}`;
  const cached = cohorts.get(key);
  if (cached) return cached;
  const cohort = await database().$transaction(
    async (tx) => {
      const head = await tx.auditHead.findUniqueOrThrow({ where: { labId: actor.labId } });
      const rows = await tx.analysisRow.findMany({
        where: { labId: actor.labId },
        orderBy: [{ performedOn: 'asc' }, { patientCode: 'asc' }, { ordinal: 'asc' }],
      });
      return columnsOf(head.dataVersion.toString(), rows);
    },
    { isolationLevel: 'RepeatableRead', timeout: 60_000 },
  );
  cohorts.set(`${actor.labId}:${cohort.dataVersion}`, cohort);
  return cohort;
}

const orMissing = (value: number | null): number => value ?? -1;

function columnsOf(dataVersion: string, rows: readonly AnalysisRow[]): Cohort {
  const patients = new Map<string, number>();
  const patientIndex = Int32Array.from(rows, (row) => {
    const known = patients.get(row.patientId) ?? patients.size;
    patients.set(row.patientId, known);
    return known;
  });
  const evidenceStart = new Int32Array(rows.length + 1);
  for (const [i, row] of rows.entries()) evidenceStart[i + 1] = evidenceStart[i] + row.evidence.length;
  const evidence = new Int32Array(evidenceStart[rows.length]);
  for (const [i, row] of rows.entries()) evidence.set(row.evidence, evidenceStart[i]);
  return {
    dataVersion,
    size: rows.length,
    procedureId: rows.map((row) => row.procedureId),
    patientId: rows.map((row) => row.patientId),
    patientCode: rows.map((row) => row.patientCode),
    patientIndex,
    performedOnDay: Int32Array.from(rows, (row) => toEpochDay(dayFromDate(row.performedOn))),
    ordinal: Uint8Array.from(rows, (row) => row.ordinal),
    daysToNext: Int32Array.from(rows, (row) => orMissing(row.daysToNext)),
    daysToDeath: Int32Array.from(rows, (row) => orMissing(row.daysToDeath)),
    daysToLastContact: Int32Array.from(rows, (row) => row.daysToLastContact),
    ageYears: Int16Array.from(rows, (row) => orMissing(row.ageYears)),
    laDiameterMm: Int16Array.from(rows, (row) => orMissing(row.laDiameterMm)),
    lvefPct: Int16Array.from(rows, (row) => orMissing(row.lvefPct)),
    structuralHeartDisease: Int8Array.from(rows, (row) =>
      row.structuralHeartDisease === null ? -1 : Number(row.structuralHeartDisease),
    ),
    sex: columnOf(rows.map((row) => row.sex)),
    afType: columnOf(rows.map((row) => row.afType)),
    intendedStrategy: columnOf(rows.map((row) => row.intendedStrategy)),
    derivedStrategy: columnOf(rows.map((row) => row.derivedStrategy)),
    energy: columnOf(rows.map((row) => row.energy)),
    operator: columnOf(rows.map((row) => row.operatorCode)),
    cohortTag: columnOf(rows.map((row) => row.cohortTag)),
    evidenceStart,
    evidence,
  };
}

/** Dictionary codes in alphabetical order behind '' = not recorded. */
function columnOf(values: readonly (string | null)[]): CohortColumn {
  const known = [...new Set(values.filter((value) => value !== null))].sort();
  const position = new Map(known.map((code, i) => [code, i + 1]));
  return {
    codes: ['', ...known],
    index: Uint16Array.from(values, (value) => (value === null ? 0 : (position.get(value) ?? 0))),
  };
}
