import 'server-only';
import { type CaseTimeline, type PatientHistory, timelinesOf } from '../registry/patient-history';
import { RULES_VERSION } from '../registry/rhythm-evidence';
import { database, type Prisma, type Transaction } from './database';
import { dateFromDay, dayFromDate, dayFromDateOrNull } from './day-edge';
import { decodeDeviceDay, decodeEnergy, decodeKind, decodeLesion, decodeRhythm } from './decode';
import type * as Models from './generated/client';

interface PatientWithHistory extends Models.Patient {
  readonly procedures: readonly (Models.Procedure & {
    readonly baseline: Models.Baseline | null;
    readonly operator: Models.Operator | null;
    readonly lesionElements: readonly Models.LesionElement[];
  })[];
  readonly recordings: readonly Models.Recording[];
  readonly deviceDays: readonly Models.DeviceDay[];
  readonly drugEpisodes: readonly Models.DrugEpisode[];
  readonly cardioversions: readonly Models.Cardioversion[];
  readonly visits: readonly Pick<Models.FollowUpVisit, 'patientId' | 'visitedOn' | 'drugsReviewed'>[];
}

/** Flat queries joined here: asked for as one nested read, composite keys become a list of hundreds of ORs. */
async function readHistories(
  tx: Transaction,
  labId: string,
  ids: readonly string[],
): Promise<PatientWithHistory[]> {
  const ofPatients = { labId, patientId: { in: [...ids] } };
  const patients = await tx.patient.findMany({ where: { labId, id: { in: [...ids] } } });
  const procedures = await tx.procedure.findMany({ where: ofPatients });
  const ofProcedures = { labId, procedureId: { in: procedures.map((procedure) => procedure.id) } };
  const operators = await tx.operator.findMany({ where: { labId } });
  const baselines = await tx.baseline.findMany({ where: ofProcedures });
  const lesions = grouped(await tx.lesionElement.findMany({ where: ofProcedures }), (row) => row.procedureId);
  const recordings = grouped(await tx.recording.findMany({ where: ofPatients }), (row) => row.patientId);
  const deviceDays = grouped(await tx.deviceDay.findMany({ where: ofPatients }), (row) => row.patientId);
  const drugs = grouped(await tx.drugEpisode.findMany({ where: ofPatients }), (row) => row.patientId);
  const cardioversions = grouped(
    await tx.cardioversion.findMany({ where: ofPatients }),
    (row) => row.patientId,
  );
  const select = { patientId: true, visitedOn: true, drugsReviewed: true } as const;
  const visits = grouped(
    await tx.followUpVisit.findMany({ where: ofPatients, select }),
    (row) => row.patientId,
  );
  const operatorById = new Map(operators.map((operator) => [operator.id, operator]));
  const baselineById = new Map(baselines.map((baseline) => [baseline.procedureId, baseline]));
  const whole = procedures.map((procedure) => ({
    ...procedure,
    operator: operatorById.get(procedure.operatorId ?? '') ?? null,
    baseline: baselineById.get(procedure.id) ?? null,
    lesionElements: lesions.get(procedure.id) ?? [],
  }));
  const byPatient = grouped(whole, (row) => row.patientId);
  return patients.map((patient) => ({
    ...patient,
    procedures: byPatient.get(patient.id) ?? [],
    recordings: recordings.get(patient.id) ?? [],
    deviceDays: deviceDays.get(patient.id) ?? [],
    drugEpisodes: drugs.get(patient.id) ?? [],
    cardioversions: cardioversions.get(patient.id) ?? [],
    visits: visits.get(patient.id) ?? [],
  }));
}

function grouped<Row>(rows: readonly Row[], keyOf: (row: Row) => string): Map<string, Row[]> {
  const groups = new Map<string, Row[]>();
  for (const row of rows) {
    const group = groups.get(keyOf(row));
    if (group) group.push(row);
    else groups.set(keyOf(row), [row]);
  }
  return groups;
}

/**
 * Makes the analysis rows of these patients anew from what is stored, inside the transaction that changed it: one row per
 * procedure, holding covariates and packed evidence. Patients are read in groups so that a bulk load stays in memory.
 */
export async function refreshAnalysisRows(
  tx: Transaction,
  labId: string,
  patientIds: readonly string[],
): Promise<void> {
  for (let start = 0; start < patientIds.length; start += 250) {
    const ids = patientIds.slice(start, start + 250);
    const patients = await readHistories(tx, labId, ids);
    await tx.analysisRow.deleteMany({ where: { labId, patientId: { in: ids } } });
    await tx.analysisRow.createMany({ data: patients.flatMap(rowsOfPatient) });
  }
}

/** Rebuilds the rows of every lab that were made by older rules; returns how many patients were touched. */
export async function rebuildOlderRows(): Promise<number> {
  const db = database();
  const stale = await db.$queryRaw<{ lab_id: string; id: string }[]>`
    SELECT p.lab_id, p.id FROM patients p
    WHERE EXISTS (
      SELECT 1 FROM procedures c LEFT JOIN analysis_rows r ON r.lab_id = c.lab_id AND r.procedure_id = c.id
      WHERE c.lab_id = p.lab_id AND c.patient_id = p.id AND (r.rules_version IS NULL OR r.rules_version < ${RULES_VERSION}))`;
  const labs = new Map<string, string[]>();
  for (const row of stale) labs.set(row.lab_id, [...(labs.get(row.lab_id) ?? []), row.id]);
  for (const [labId, ids] of labs) {
    for (let start = 0; start < ids.length; start += 250) {
      const group = ids.slice(start, start + 250);
      await db.$transaction(
        async (tx) => {
          await tx.$queryRaw`SELECT 1 FROM patients WHERE lab_id = ${labId}::uuid AND id = ANY(${group}::uuid[]) ORDER BY id FOR UPDATE`;
          await refreshAnalysisRows(tx, labId, group);
        },
        { maxWait: 5_000, timeout: 60_000 },
      );
    }
    await db.auditHead.update({ where: { labId }, data: { dataVersion: { increment: 1 } } });
  }
  return stale.length;
}

function historyOf(patient: PatientWithHistory): PatientHistory {
  return {
    diedOn: dayFromDateOrNull(patient.diedOn),
    procedures: patient.procedures.map((procedure) => ({
      id: procedure.id,
      ordinal: procedure.ordinal,
      performedOn: dayFromDate(procedure.performedOn),
      energy: decodeEnergy(procedure.energy),
      deviceType: procedure.deviceType,
      lesionElements: procedure.lesionElements.map(decodeLesion),
    })),
    recordings: patient.recordings.map((recording) => ({
      kind: decodeKind(recording.kind),
      startedOn: dayFromDate(recording.startedOn),
      endedOn: dayFromDate(recording.endedOn),
      durationMinutes: recording.durationMinutes,
      rhythm: decodeRhythm(recording.rhythm),
      wholeTracing: recording.wholeTracing,
      longestEpisodeSeconds: recording.longestEpisodeSeconds,
      episodeStartedOn: dayFromDateOrNull(recording.episodeStartedOn),
      episodeEndedOn: dayFromDateOrNull(recording.episodeEndedOn),
      symptomatic: recording.symptomatic,
      source: recording.source,
    })),
    deviceDays: patient.deviceDays.map(decodeDeviceDay),
    drugEpisodes: patient.drugEpisodes.map((episode) => ({
      drug: episode.drug,
      startedOn: dayFromDate(episode.startedOn),
      stoppedOn: dayFromDateOrNull(episode.stoppedOn),
    })),
    cardioversions: patient.cardioversions.map((row) => ({ performedOn: dayFromDate(row.performedOn) })),
    visits: patient.visits.map((visit) => ({
      visitedOn: dayFromDate(visit.visitedOn),
      drugsReviewed: visit.drugsReviewed,
    })),
  };
}

function rowsOfPatient(patient: PatientWithHistory): Prisma.AnalysisRowCreateManyInput[] {
  return timelinesOf(historyOf(patient)).map((timeline) => rowOf(patient, timeline));
}

function rowOf(patient: PatientWithHistory, timeline: CaseTimeline): Prisma.AnalysisRowCreateManyInput {
  const procedure = patient.procedures.find((candidate) => candidate.id === timeline.procedureId);
  if (!procedure) throw new Error('a timeline without its procedure');
  const { baseline } = procedure;
  return {
    labId: patient.labId,
    procedureId: procedure.id,
    patientId: patient.id,
    patientCode: patient.code,
    ordinal: procedure.ordinal,
    performedOn: dateFromDay(dayFromDate(procedure.performedOn)),
    daysToNext: timeline.daysToNext,
    daysToDeath: timeline.daysToDeath,
    daysToLastContact: timeline.daysToLastContact,
    sex: patient.sex,
    birthYear: patient.birthYear,
    ageYears: procedure.ageYears,
    operatorCode: procedure.operator?.code ?? null,
    energy: procedure.energy,
    afType: baseline?.afType ?? null,
    intendedStrategy: procedure.intendedStrategy,
    derivedStrategy: timeline.derivedStrategy,
    laDiameterMm: baseline?.laDiameterMm ?? null,
    lvefPct: baseline?.lvefPct ?? null,
    structuralHeartDisease: baseline?.structuralHeartDisease ?? null,
    cohortTag: patient.cohortTag,
    evidence: timeline.evidence,
    rulesVersion: RULES_VERSION,
  };
}
