import 'server-only';
import type { CalendarDay } from '../../registry/calendar-day';
import type { ReadmissionFormInput } from '../../registry/forms/readmission-form';
import { type ReadmissionTiming, readmissionTiming } from '../../registry/readmission';
import type { Actor } from '../actor';
import { database } from '../database';
import { dayFromDate, dayFromDateOrNull } from '../day-edge';
import type { Readmission } from '../generated/client';

export interface ReadmissionRead {
  readonly id: string;
  readonly admittedOn: CalendarDay;
  readonly dischargedOn: CalendarDay | null;
  readonly cause: string;
  readonly timing: ReadmissionTiming;
  readonly isVoided: boolean;
  readonly voidedReason: string | null;
}

/** Every readmission of a case, voided ones too, in order of days. */
export async function readReadmissions(actor: Actor, procedureId: string): Promise<ReadmissionRead[]> {
  const rows = await database().readmission.findMany({
    where: { labId: actor.labId, procedureId },
    include: { procedure: { select: { dischargedOn: true } } },
    orderBy: [{ admittedOn: 'asc' }, { id: 'asc' }],
  });
  return rows.map((row) => {
    const admittedOn = dayFromDate(row.admittedOn);
    return {
      id: row.id,
      admittedOn,
      dischargedOn: dayFromDateOrNull(row.dischargedOn),
      cause: row.cause,
      timing: readmissionTiming(admittedOn, {
        performedOn: dayFromDate(row.procedurePerformedOn),
        dischargedOn: dayFromDateOrNull(row.procedure.dischargedOn),
      }),
      isVoided: row.voidedAt !== null,
      voidedReason: row.voidedReason,
    };
  });
}

/** A stored readmission as the form holds it. */
export function readmissionFormValues(row: Readmission) {
  return {
    admittedOn: dayFromDate(row.admittedOn),
    dischargedOn: dayFromDateOrNull(row.dischargedOn) ?? '',
    cause: row.cause,
  } satisfies ReadmissionFormInput;
}

export interface ReadmissionForEditing {
  readonly id: string;
  readonly version: number;
  readonly procedureId: string;
  readonly isVoided: boolean;
  readonly values: ReadmissionFormInput;
}

/** A readmission as its form shows it; null when the lab has none with this id. */
export async function readReadmissionForEditing(
  actor: Actor,
  id: string,
): Promise<ReadmissionForEditing | null> {
  const row = await database().readmission.findUnique({ where: { labId_id: { labId: actor.labId, id } } });
  if (!row) return null;
  const { version, procedureId, voidedAt } = row;
  return { id, version, procedureId, isVoided: voidedAt !== null, values: readmissionFormValues(row) };
}
