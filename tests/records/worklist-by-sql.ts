/**
 * The worklist of whole labs in one SQL statement over the stored tables, written from the rules and not from the code:
 * the plan of a slot is found by asking on which day it would first open, not by replanning version after version.
 *
 * $1: lab ids; $2: the day asked for, one for each lab. One row per slot that is neither done nor of an ended plan.
 */
export const WORKLIST_BY_SQL = `
WITH asked AS (SELECT * FROM unnest($1::uuid[], $2::date[]) AS asked(lab_id, today)),
cases AS (
  SELECT a.today, c.lab_id, c.id, c.performed_on, p.id AS patient_id, p.code || '/' || c.ordinal AS case_code,
    COALESCE(c.settled_strategy, c.intended_strategy) AS strategy,
    LEAST(p.died_on, p.consent_withdrawn_on, p.transferred_on, (
      SELECT min(n.performed_on) FROM procedures n
      WHERE n.lab_id = c.lab_id AND n.patient_id = c.patient_id AND n.ordinal > c.ordinal)) AS ends_on
  FROM asked a JOIN procedures c USING (lab_id) JOIN patients p ON p.lab_id = c.lab_id AND p.id = c.patient_id
),
running AS (SELECT * FROM cases WHERE ends_on IS NULL OR ends_on > today),
-- Every day on which another version may take over, and what holds from it until the next such day.
turns AS (
  SELECT r.*, turn.starts_on, lead(turn.starts_on) OVER (PARTITION BY r.id ORDER BY turn.starts_on) AS until
  FROM running r CROSS JOIN LATERAL (
    SELECT DISTINCT COALESCE(s.effective_on, '-infinity'::date) AS starts_on FROM follow_up_schedules s
    WHERE s.lab_id = r.lab_id AND (s.strategy IS NULL OR s.strategy = r.strategy)) turn
),
ruled AS (
  SELECT t.*, COALESCE(
    (SELECT NULLIF(s.slots, '[]'::jsonb) FROM follow_up_schedules s
      WHERE s.lab_id = t.lab_id AND s.strategy = t.strategy AND COALESCE(s.effective_on, '-infinity') <= t.starts_on
      ORDER BY s.version_number DESC LIMIT 1),
    (SELECT s.slots FROM follow_up_schedules s
      WHERE s.lab_id = t.lab_id AND s.strategy IS NULL AND COALESCE(s.effective_on, '-infinity') <= t.starts_on
      ORDER BY s.version_number DESC LIMIT 1)) AS slots
  FROM turns t
),
windows AS (
  SELECT r.id, r.starts_on, r.until, slot->>'code' AS code, slot->>'kind' AS kind, slot->>'evidence' AS evidence, due.on_day AS due_on,
    GREATEST(due.on_day - (slot->>'windowBeforeDays')::int, r.performed_on) AS opens_on,
    due.on_day + (slot->>'windowAfterDays')::int AS closes_on
  FROM ruled r CROSS JOIN LATERAL jsonb_array_elements(r.slots) AS slot CROSS JOIN LATERAL (
    SELECT CASE slot->'due'->>'unit' WHEN 'days' THEN r.performed_on + (slot->'due'->>'amount')::int
      ELSE (r.performed_on + make_interval(months => (slot->'due'->>'amount')::int))::date END AS on_day) due
),
-- A slot opens under the version that holds on the day when it should open; or on a version's first day, when the version
-- before it had still to open it and this one would have opened it by then. What opens first is what is planned.
openings AS (
  SELECT w.*, w.opens_on AS planned_from FROM windows w
  WHERE w.opens_on >= w.starts_on AND (w.until IS NULL OR w.opens_on < w.until)
  UNION ALL
  SELECT w.*, w.starts_on FROM windows w JOIN windows before ON before.id = w.id AND before.until = w.starts_on AND before.code = w.code
  WHERE w.opens_on < w.starts_on AND before.opens_on >= w.starts_on
),
plan AS (SELECT DISTINCT ON (id, code) id, code, kind, evidence, due_on, planned_from AS opens_on, closes_on FROM openings ORDER BY id, code, planned_from),
grades AS (SELECT * FROM (VALUES ('ecg', 1), ('24h', 2), ('7d', 3), ('14d', 4), ('continuous', 5)) AS grades(code, rank)),
recorded AS (
  SELECT c.id, v.procedure_id AS at_procedure, v.slot AS at_slot, GREATEST(r.started_on, c.performed_on + 1) AS first_day, r.ended_on AS last_day,
    CASE WHEN r.kind = 'implanted' THEN 5 WHEN r.kind <> 'holter' OR r.duration_minutes IS NULL OR r.duration_minutes < 1440 THEN 1
      WHEN r.duration_minutes < 10080 THEN 2 WHEN r.duration_minutes < 20160 THEN 3 ELSE 4 END AS rank
  FROM running c JOIN recordings r ON r.lab_id = c.lab_id AND r.patient_id = c.patient_id
  LEFT JOIN follow_up_visits v ON v.lab_id = r.lab_id AND v.id = r.visit_id
  WHERE r.ended_on >= c.performed_on
),
seen AS (
  SELECT DISTINCT ON (c.id, v.slot) c.id, v.slot AS code, v.id AS visit_id
  FROM running c JOIN follow_up_visits v ON v.lab_id = c.lab_id AND v.procedure_id = c.id ORDER BY c.id, v.slot, v.visited_on DESC, v.id
),
proved AS (
  SELECT DISTINCT plan.id, plan.code FROM plan JOIN grades g ON g.code = plan.evidence JOIN recorded r ON r.id = plan.id AND r.rank >= g.rank
  WHERE (r.at_procedure = plan.id AND r.at_slot = plan.code)
    OR (r.first_day <= r.last_day AND r.first_day <= plan.closes_on AND r.last_day >= plan.opens_on)
),
lacking AS (
  SELECT c.today, c.lab_id, c.case_code, plan.*, seen.visit_id FROM running c JOIN plan USING (id)
  LEFT JOIN seen USING (id, code) LEFT JOIN proved USING (id, code)
  WHERE seen.visit_id IS NULL OR (proved.id IS NULL AND plan.evidence NOT IN ('symptoms', 'contact'))
),
-- An undone slot is given up once 14 days have passed and the next window of its kind is open; the last of its kind waits for any
-- window that opens after its own has closed, and with none of these for a year.
later AS (
  SELECT l.id, l.code, min(n.opens_on) FILTER (WHERE n.kind = l.kind) AS of_kind, min(n.opens_on) FILTER (WHERE n.opens_on > l.closes_on) AS after_it
  FROM plan l JOIN plan n ON n.id = l.id AND n.due_on > l.due_on GROUP BY l.id, l.code
),
doomed AS (
  SELECT l.*, CASE WHEN later.of_kind IS NOT NULL THEN GREATEST(l.closes_on + 15, later.of_kind)
    WHEN later.after_it IS NOT NULL THEN GREATEST(l.closes_on + 15, later.after_it) ELSE l.closes_on + 366 END AS missed_on
  FROM lacking l LEFT JOIN later USING (id, code)
),
judged AS (
  SELECT d.*, CASE WHEN today < opens_on THEN 'upcoming' WHEN today <= closes_on THEN 'in-window' WHEN today < missed_on THEN 'overdue' ELSE 'missed' END AS state
  FROM doomed d
),
counted AS (
  SELECT j.*, CASE state WHEN 'upcoming' THEN opens_on - today WHEN 'in-window' THEN closes_on - today WHEN 'overdue' THEN missed_on - today ELSE 0 END AS days_left,
    CASE WHEN state IN ('overdue', 'missed') THEN today - closes_on ELSE 0 END AS days_overdue
  FROM judged j
)
SELECT lab_id, case_code || ' ' || code || ' ' || state || ' ' || days_left || ' ' || days_overdue || ' ' || opens_on || ' ' || due_on || ' ' ||
  closes_on || ' ' || evidence || ' ' || COALESCE(visit_id::text, 'no visit') AS line, state, days_left, opens_on::text
FROM counted
ORDER BY lab_id, CASE WHEN state = 'overdue' AND kind = 'safety-call' THEN 0 WHEN state = 'in-window' AND days_left <= 7 THEN 1
    WHEN state = 'overdue' THEN 2 WHEN state = 'in-window' THEN 3 WHEN state = 'upcoming' THEN 4 ELSE 5 END,
  days_left, kind COLLATE "C", due_on, case_code COLLATE "C", code COLLATE "C"`;

/** Cases of each lab whose plan has ended by the day asked for. */
export const ENDED_BY_SQL = `
SELECT a.lab_id, count(c.id) AS ended FROM unnest($1::uuid[], $2::date[]) AS a(lab_id, today)
LEFT JOIN (procedures c JOIN patients p ON p.lab_id = c.lab_id AND p.id = c.patient_id) ON c.lab_id = a.lab_id AND (
  p.died_on <= a.today OR p.consent_withdrawn_on <= a.today OR p.transferred_on <= a.today OR EXISTS (
    SELECT 1 FROM procedures n WHERE n.lab_id = c.lab_id AND n.patient_id = c.patient_id AND n.ordinal > c.ordinal AND n.performed_on <= a.today))
GROUP BY a.lab_id`;
