import 'server-only';
import { type CalendarDay, calendarDay } from '../../registry/calendar-day';
import { caseCode } from '../../registry/cohort';
import { gradeOfRecording } from '../../registry/rhythm-evidence';
import type { StrategyCase } from '../../registry/schedule-moves';
import { planUnderVersions, type ScheduleVersion, versionsFor } from '../../registry/schedule-versions';
import type { EvidenceSpan } from '../../registry/slot-evidence';
import type { FollowedCase } from '../../registry/worklist';
import type { Actor } from '../actor';
import { database } from '../database';
import { decodeKind } from '../decode';
import { readSchedules } from '../schedules/read';

interface FollowedRow {
  procedure_id: string;
  patient_code: string;
  ordinal: number;
  performed_on: string;
  strategy: string | null;
  visit_ids: string[];
  visit_slots: string[];
  recording_kinds: string[];
  recording_minutes: (number | null)[];
  recording_first_days: number[];
  recording_last_days: number[];
  recording_visits: (string | null)[];
  died_on: string | null;
  consent_withdrawn_on: string | null;
  transferred_on: string | null;
  next_performed_on: string | null;
}

const day = (text: string | null): CalendarDay | null => (text === null ? null : calendarDay(text));

/** Every case of the lab with what the worklist needs to know; cases whose plan has ended by today are left to the rules. */
export async function readFollowedCases(actor: Actor): Promise<FollowedCase[]> {
  return (await readFollowedRecords(actor)).map(({ followed }) => followed);
}

/** One case for the worklist's rules; null when the lab has no such case. */
export async function readFollowedCase(actor: Actor, procedureId: string): Promise<FollowedCase | null> {
  return (await readFollowedRecords(actor, procedureId))[0]?.followed ?? null;
}

/** Every case of the lab, or one of them, planned under the schedules of the lab; the strategy is the settled one, else the intended one. */
export async function readFollowedRecords(
  actor: Actor,
  procedureId: string | null = null,
): Promise<StrategyCase[]> {
  const [schedules, rows] = await Promise.all([readSchedules(actor), readRows(actor, procedureId)]);
  const versions = new Map<string | null, readonly ScheduleVersion[]>();
  const versionsOf = (strategy: string | null) => {
    const known = versions.get(strategy) ?? versionsFor(strategy, schedules);
    versions.set(strategy, known);
    return known;
  };
  return rows.map((row) => ({
    strategy: row.strategy,
    followed: followedOf(row, versionsOf(row.strategy)),
  }));
}

function readRows({ labId }: Actor, procedureId: string | null): Promise<FollowedRow[]> {
  return database().$queryRaw<FollowedRow[]>`
    WITH seen AS (
      SELECT v.procedure_id, array_agg(v.id::text ORDER BY v.visited_on DESC, v.id) AS visit_ids,
        array_agg(v.slot ORDER BY v.visited_on DESC, v.id) AS visit_slots
      FROM follow_up_visits v WHERE v.lab_id = ${labId}::uuid
        AND (${procedureId}::uuid IS NULL OR v.procedure_id = ${procedureId}::uuid)
      GROUP BY v.procedure_id
    ), counted AS (
      -- Device days that follow each other: from 14 on as good as any device, fewer as a recording of as many days.
      SELECT patient_id, CASE WHEN count(*) >= 14 THEN 'implanted' ELSE 'holter' END AS kind,
        1440 * count(*)::int AS duration_minutes, min(day) AS started_on, max(day) AS ended_on
      FROM (
        SELECT d.patient_id, d.day, d.day - row_number() OVER (PARTITION BY d.patient_id ORDER BY d.day)::int AS run
        FROM device_days d WHERE d.lab_id = ${labId}::uuid AND (${procedureId}::uuid IS NULL OR d.patient_id =
          (SELECT o.patient_id FROM procedures o WHERE o.lab_id = ${labId}::uuid AND o.id = ${procedureId}::uuid))
      ) runs GROUP BY patient_id, run
    ), watched AS (
      SELECT id::text, patient_id, kind, duration_minutes, started_on, ended_on, visit_id::text
      FROM recordings WHERE lab_id = ${labId}::uuid
      UNION ALL
      SELECT started_on::text, patient_id, kind, duration_minutes, started_on, ended_on, NULL FROM counted
    ), recorded AS (
      SELECT c.id AS procedure_id, array_agg(r.kind ORDER BY r.id) AS kinds,
        array_agg(r.duration_minutes ORDER BY r.id) AS minutes,
        array_agg(r.started_on - DATE '1970-01-01' ORDER BY r.id) AS first_days,
        array_agg(r.ended_on - DATE '1970-01-01' ORDER BY r.id) AS last_days,
        array_agg(r.visit_id ORDER BY r.id) AS visits
      FROM procedures c
      JOIN watched r ON r.patient_id = c.patient_id AND r.ended_on >= c.performed_on
      WHERE c.lab_id = ${labId}::uuid AND (${procedureId}::uuid IS NULL OR c.id = ${procedureId}::uuid)
      GROUP BY c.id
    )
    SELECT c.id AS procedure_id, p.code AS patient_code, c.ordinal, c.performed_on::text,
      COALESCE(c.settled_strategy, c.intended_strategy) AS strategy,
      COALESCE(seen.visit_ids, '{}') AS visit_ids, COALESCE(seen.visit_slots, '{}') AS visit_slots,
      COALESCE(recorded.kinds, '{}') AS recording_kinds, COALESCE(recorded.minutes, '{}') AS recording_minutes,
      COALESCE(recorded.first_days, '{}') AS recording_first_days,
      COALESCE(recorded.last_days, '{}') AS recording_last_days,
      COALESCE(recorded.visits, '{}') AS recording_visits,
      p.died_on::text, p.consent_withdrawn_on::text, p.transferred_on::text,
      (SELECT min(n.performed_on)::text FROM procedures n
        WHERE n.lab_id = c.lab_id AND n.patient_id = c.patient_id AND n.ordinal > c.ordinal) AS next_performed_on
    FROM procedures c
    JOIN patients p ON p.lab_id = c.lab_id AND p.id = c.patient_id
    LEFT JOIN seen ON seen.procedure_id = c.id
    LEFT JOIN recorded ON recorded.procedure_id = c.id
    WHERE c.lab_id = ${labId}::uuid AND (${procedureId}::uuid IS NULL OR c.id = ${procedureId}::uuid)`;
}

function followedOf(row: FollowedRow, versions: readonly ScheduleVersion[]): FollowedCase {
  const performedOn = calendarDay(row.performed_on);
  return {
    procedureId: row.procedure_id,
    caseCode: caseCode(row.patient_code, row.ordinal),
    performedOn,
    plan: planUnderVersions(performedOn, versions),
    visits: row.visit_ids.map((id, index) => ({ id, slot: row.visit_slots[index] })),
    recordings: row.recording_kinds.map(
      (kind, index): EvidenceSpan => ({
        firstDay: row.recording_first_days[index],
        lastDay: row.recording_last_days[index],
        grade: gradeOfRecording(decodeKind(kind), row.recording_minutes[index]),
        visitId: row.recording_visits[index],
      }),
    ),
    diedOn: day(row.died_on),
    consentWithdrawnOn: day(row.consent_withdrawn_on),
    transferredOn: day(row.transferred_on),
    nextPerformedOn: day(row.next_performed_on),
  };
}
