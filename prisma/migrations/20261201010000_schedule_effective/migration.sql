-- A version of a follow-up schedule plans from a day on. The first version of the schedule for all has no day: it holds
-- from the beginning. Versions beyond the first take the day on which they were made.
ALTER TABLE "follow_up_schedules" ADD COLUMN "effective_on" DATE;

ALTER TABLE "follow_up_schedules" DISABLE TRIGGER "follow_up_schedules_never_edited";
UPDATE "follow_up_schedules" SET "effective_on" = "created_at"::date
WHERE "version_number" > 1 OR "strategy" IS NOT NULL;
ALTER TABLE "follow_up_schedules" ENABLE TRIGGER "follow_up_schedules_never_edited";

ALTER TABLE "follow_up_schedules"
  ADD CONSTRAINT "follow_up_schedules_version_counts_from_one" CHECK ("version_number" >= 1),
  ADD CONSTRAINT "follow_up_schedules_day_from_the_second_on" CHECK ("effective_on" IS NOT NULL OR ("version_number" = 1 AND "strategy" IS NULL));

-- The schedule for all has no strategy: two of its versions with one number are the same version all the same.
DROP INDEX "follow_up_schedules_lab_id_strategy_version_number_key";
CREATE UNIQUE INDEX "follow_up_schedules_lab_id_strategy_version_number_key"
  ON "follow_up_schedules" (lab_id, strategy, version_number) NULLS NOT DISTINCT;

CREATE TRIGGER "follow_up_schedules_never_emptied" BEFORE TRUNCATE ON "follow_up_schedules" FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
