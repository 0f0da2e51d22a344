import 'server-only';
import { type CalendarDay, calendarDay } from '../../registry/calendar-day';
import { caseCode } from '../../registry/cohort';
import { slotsFor } from '../../registry/follow-up-schedule';
import type { FollowedCase } from '../../registry/worklist';
import type { Actor } from '../actor';
import { database } from '../database';
import { readSchedules } from '../schedules/read';

interface FollowedRow {
  procedure_id: string;
  patient_code: string;
  ordinal: number;
  performed_on: string;
  strategy: string | null;
  done_slots: string[];
  died_on: string | null;
  consent_withdrawn_on: string | null;
  transferred_on: string | null;
  next_performed_on: string | null;
}

const day = (text: string | null): CalendarDay | null => (text === null ? null : calendarDay(text));

/** Every case of the lab with what the worklist needs to know; cases whose plan has surely ended by `today` are left to the rules. */
export async function readFollowedCases(actor: Actor): Promise<FollowedCase[]> {
  const [schedules, rows] = await Promise.all([
    readSchedules(actor),
    database().$queryRaw<FollowedRow[]>`
      SELECT c.id AS procedure_id, p.code AS patient_code, c.ordinal, c.performed_on::text,
        COALESCE(c.settled_strategy, c.intended_strategy) AS strategy,
        COALESCE(array_agg(v.slot) FILTER (WHERE v.slot IS NOT NULL), '{}') AS done_slots,
        p.died_on::text, p.consent_withdrawn_on::text, p.transferred_on::text,
        (SELECT min(n.performed_on)::text FROM procedures n
          WHERE n.lab_id = c.lab_id AND n.patient_id = c.patient_id AND n.ordinal > c.ordinal) AS next_performed_on
      FROM procedures c
      JOIN patients p ON p.lab_id = c.lab_id AND p.id = c.patient_id
      LEFT JOIN follow_up_visits v ON v.lab_id = c.lab_id AND v.procedure_id = c.id
      WHERE c.lab_id = ${actor.labId}::uuid
      GROUP BY c.lab_id, c.id, p.lab_id, p.id`,
  ]);
  return rows.map((row) => ({
    procedureId: row.procedure_id,
    caseCode: caseCode(row.patient_code, row.ordinal),
    performedOn: calendarDay(row.performed_on),
    slots: slotsFor(row.strategy, schedules),
    doneSlots: row.done_slots,
    diedOn: day(row.died_on),
    consentWithdrawnOn: day(row.consent_withdrawn_on),
    transferredOn: day(row.transferred_on),
    nextPerformedOn: day(row.next_performed_on),
  }));
}
