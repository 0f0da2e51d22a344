import 'server-only';
import type { ProcedureContext } from '../../registry/forms/procedure-checks';
import type { Actor } from '../actor';
import { database } from '../database';
import { dayFromDate, dayFromDateOrNull } from '../day-edge';

export interface ProcedurePlace {
  readonly patientId: string;
  readonly patientCode: string;
  readonly context: Omit<ProcedureContext, 'today'>;
}

/**
 * What a procedure of this patient is checked against; null when the lab has no such patient. For an edit, name the
 * procedure: the others, and what hangs on it, then bound its day.
 */
export async function readProcedurePlace(
  actor: Actor,
  patientId: string,
  procedureId?: string,
): Promise<ProcedurePlace | null> {
  const { labId } = actor;
  const patient = await database().patient.findUnique({
    where: { labId_id: { labId, id: patientId } },
    include: {
      procedures: { select: { id: true, ordinal: true, performedOn: true }, orderBy: { ordinal: 'asc' } },
    },
  });
  if (!patient) return null;
  const all = patient.procedures.map((row) => ({ ...row, performedOn: dayFromDate(row.performedOn) }));
  const own = all.find((row) => row.id === procedureId);
  const earlier = own ? all.filter((row) => row.ordinal < own.ordinal) : all;
  const next = own ? all.find((row) => row.ordinal > own.ordinal) : undefined;
  return {
    patientId,
    patientCode: patient.code,
    context: {
      birthYear: patient.birthYear,
      diedOn: dayFromDateOrNull(patient.diedOn),
      earlierProcedures: earlier.map(({ ordinal, performedOn }) => ({ ordinal, performedOn })),
      nextPerformedOn: next?.performedOn ?? null,
      firstDependentOn: own ? await firstDependent(labId, own.id) : null,
    },
  };
}

async function firstDependent(labId: string, procedureId: string) {
  const where = { labId, procedureId };
  const [visit, complication, readmission] = await Promise.all([
    database().followUpVisit.aggregate({ where, _min: { visitedOn: true } }),
    database().complication.aggregate({ where, _min: { onsetOn: true, adjudicatedOnsetOn: true } }),
    database().readmission.aggregate({ where, _min: { admittedOn: true } }),
  ]);
  const { onsetOn, adjudicatedOnsetOn } = complication._min;
  const days = [visit._min.visitedOn, onsetOn, adjudicatedOnsetOn, readmission._min.admittedOn].flatMap(
    (date) => (date === null ? [] : [dayFromDate(date)]),
  );
  return days.sort()[0] ?? null;
}
