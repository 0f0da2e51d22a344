import 'server-only';
import type { CalendarDay } from '../../registry/calendar-day';
import { standingOf } from '../../registry/complication-standing';
import type { ComplicationContext } from '../../registry/forms/complication-checks';
import type { ReadmissionContext } from '../../registry/forms/readmission-form';
import type { Actor } from '../actor';
import { database } from '../database';
import { dayFromDate, dayFromDateOrNull } from '../day-edge';
import { readComplications } from './read';

export interface HarmPlace {
  readonly procedureId: string;
  readonly patientId: string;
  readonly performedOn: CalendarDay;
  /** For a complication, `judgedReport` and `today` are added by the caller. */
  readonly complication: Omit<ComplicationContext, 'today' | 'judgedReport'>;
  readonly readmission: Omit<ReadmissionContext, 'today'>;
}

/** What complications and readmissions of a case are checked against; null when the lab has no such case. For an edit, name the entry. */
export async function readHarmPlace(
  actor: Actor,
  procedureId: string,
  entryId?: string,
): Promise<HarmPlace | null> {
  const { labId } = actor;
  const row = await database().procedure.findUnique({
    where: { labId_id: { labId, id: procedureId } },
    include: {
      readmissions: { where: { voidedAt: null } },
      patient: { include: { procedures: { select: { ordinal: true, performedOn: true } } } },
    },
  });
  if (!row) return null;
  const complications = await readComplications(actor, procedureId);
  const counted = complications.flatMap((one) => {
    const standing = standingOf(one);
    return standing.kind === 'counts' ? [{ id: one.id, facts: standing.facts }] : [];
  });
  const [next] = row.patient.procedures
    .filter((other) => other.ordinal > row.ordinal)
    .map((other) => dayFromDate(other.performedOn))
    .sort();
  const shared = {
    performedOn: dayFromDate(row.performedOn),
    diedOn: dayFromDateOrNull(row.patient.diedOn),
    nextPerformedOn: next ?? null,
  };
  return {
    procedureId,
    patientId: row.patientId,
    performedOn: shared.performedOn,
    complication: {
      ...shared,
      others: counted
        .filter(({ id }) => id !== entryId)
        .map(({ facts: { type, onsetOn } }) => ({ type, onsetOn })),
    },
    readmission: {
      ...shared,
      dischargedOn: dayFromDateOrNull(row.dischargedOn),
      others: row.readmissions
        .filter(({ id }) => id !== entryId)
        .map((stay) => ({
          admittedOn: dayFromDate(stay.admittedOn),
          dischargedOn: dayFromDateOrNull(stay.dischargedOn),
        })),
      hasComplication: counted.length > 0,
    },
  };
}
