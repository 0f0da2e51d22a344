import 'server-only';
import { type CalendarDay, calendarDay } from '../../registry/calendar-day';
import type { PatientContext } from '../../registry/forms/patient-checks';
import type { Actor } from '../actor';
import { database } from '../database';
import { dayFromDate } from '../day-edge';

/** What a patient's entry is checked against; `today` is added by the caller. */
export async function readPatientContext(
  actor: Actor,
  patientId: string,
): Promise<Omit<PatientContext, 'today'>> {
  const { labId } = actor;
  const where = { labId, patientId };
  const db = database();
  const ofCases = { labId, procedure: { patientId }, voidedAt: null };
  const [procedures, visit, recording, cardioversion, complication, readmission] = await Promise.all([
    db.procedure.findMany({
      where,
      select: { performedOn: true, ageYears: true },
      orderBy: { ordinal: 'asc' },
    }),
    db.followUpVisit.aggregate({ where, _max: { visitedOn: true } }),
    db.recording.aggregate({ where, _max: { startedOn: true } }),
    db.cardioversion.aggregate({ where, _max: { performedOn: true } }),
    db.complication.aggregate({ where: ofCases, _max: { onsetOn: true } }),
    db.readmission.aggregate({ where: ofCases, _max: { admittedOn: true } }),
  ]);
  const rows = procedures.map((row) => ({
    performedOn: dayFromDate(row.performedOn),
    ageYears: row.ageYears,
  }));
  const days: CalendarDay[] = [
    ...rows.map((row) => row.performedOn),
    ...[
      visit._max.visitedOn,
      recording._max.startedOn,
      cardioversion._max.performedOn,
      complication._max.onsetOn,
      readmission._max.admittedOn,
    ].flatMap((date) => (date === null ? [] : [dayFromDate(date)])),
  ];
  const last = days.sort().at(-1);
  return { procedures: rows, lastSeenOn: last === undefined ? null : calendarDay(last) };
}
