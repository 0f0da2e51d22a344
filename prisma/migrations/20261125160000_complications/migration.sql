-- Two states of a complication, each whole or absent, and entries that should never have been made.

-- Judged before verdicts were recorded: what was agreed with is confirmed.
UPDATE "complications" SET
  adjudicated_verdict = CASE WHEN adjudicated_type = type AND adjudicated_severity = severity THEN 'confirmed' ELSE 'reclassified' END,
  adjudicated_type = COALESCE(adjudicated_type, type),
  adjudicated_severity = COALESCE(adjudicated_severity, severity),
  adjudicated_harms = COALESCE(adjudicated_harms, harms, '{}'),
  adjudicated_onset_on = COALESCE(adjudicated_onset_on, onset_on)
WHERE adjudicated_at IS NOT NULL AND adjudicated_verdict IS NULL;

ALTER TABLE "complications"
  ADD COLUMN "voided_reason" TEXT,
  ADD COLUMN "voided_by_id" UUID,
  ADD COLUMN "voided_at" TIMESTAMPTZ(3),
  ADD CONSTRAINT "complications_verdict_has_its_day" CHECK ((adjudicated_verdict IS NULL) = (adjudicated_at IS NULL)),
  ADD CONSTRAINT "complications_verdict_has_its_facts" CHECK (
    CASE WHEN adjudicated_verdict IN ('confirmed', 'reclassified')
      THEN adjudicated_type IS NOT NULL AND adjudicated_severity IS NOT NULL AND adjudicated_onset_on IS NOT NULL
      ELSE adjudicated_type IS NULL AND adjudicated_severity IS NULL AND adjudicated_onset_on IS NULL END),
  ADD CONSTRAINT "complications_void_is_whole" CHECK ((voided_reason IS NULL) = (voided_at IS NULL)
    AND (voided_by_id IS NULL OR voided_at IS NOT NULL)),
  -- What somebody has judged is refuted, never voided.
  ADD CONSTRAINT "complications_judged_or_void" CHECK (voided_at IS NULL OR adjudicated_at IS NULL);

ALTER TABLE "readmissions"
  ADD COLUMN "voided_reason" TEXT,
  ADD COLUMN "voided_by_id" UUID,
  ADD COLUMN "voided_at" TIMESTAMPTZ(3),
  ADD CONSTRAINT "readmissions_void_is_whole" CHECK ((voided_reason IS NULL) = (voided_at IS NULL)
    AND (voided_by_id IS NULL OR voided_at IS NOT NULL));
