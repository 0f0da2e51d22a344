import 'server-only';
import { calendarDay } from '../../registry/calendar-day';
import type { VisitContext } from '../../registry/forms/visit-checks';
import { planUnderVersions, versionsFor } from '../../registry/schedule-versions';
import type { Actor } from '../actor';
import { database } from '../database';
import { dayFromDate, dayFromDateOrNull } from '../day-edge';
import { readSchedules } from '../schedules/read';

export interface VisitPlaceFound {
  readonly procedureId: string;
  readonly patientId: string;
  readonly patientCode: string;
  readonly ordinal: number;
  readonly performedOn: string;
  readonly context: Omit<VisitContext, 'today'> & Required<Pick<VisitContext, 'plan' | 'otherVisits'>>;
}

/** What a visit of this case is checked against; null when the lab has no such case. For an edit, name the visit. */
export async function readVisitPlace(
  actor: Actor,
  procedureId: string,
  visitId?: string,
): Promise<VisitPlaceFound | null> {
  const { labId } = actor;
  const row = await database().procedure.findUnique({
    where: { labId_id: { labId, id: procedureId } },
    include: {
      visits: { select: { id: true, slot: true, visitedOn: true } },
      patient: {
        include: { drugEpisodes: true, procedures: { select: { ordinal: true, performedOn: true } } },
      },
    },
  });
  if (!row) return null;
  const { patient } = row;
  const later = patient.procedures
    .filter((other) => other.ordinal > row.ordinal)
    .map((other) => dayFromDate(other.performedOn))
    .sort();
  return {
    procedureId,
    patientId: patient.id,
    patientCode: patient.code,
    ordinal: row.ordinal,
    performedOn: dayFromDate(row.performedOn),
    context: {
      performedOn: dayFromDate(row.performedOn),
      diedOn: dayFromDateOrNull(patient.diedOn),
      nextPerformedOn: later[0] === undefined ? null : calendarDay(later[0]),
      plan: planUnderVersions(
        dayFromDate(row.performedOn),
        versionsFor(row.settledStrategy ?? row.intendedStrategy, await readSchedules(actor)),
      ),
      otherVisits: row.visits
        .filter((visit) => visit.id !== visitId)
        .map((visit) => ({ slot: visit.slot, visitedOn: dayFromDate(visit.visitedOn) })),
      drugEpisodes: patient.drugEpisodes.map((episode) => ({
        drug: episode.drug,
        startedOn: dayFromDate(episode.startedOn),
        stoppedOn: dayFromDateOrNull(episode.stoppedOn),
      })),
    },
  };
}
