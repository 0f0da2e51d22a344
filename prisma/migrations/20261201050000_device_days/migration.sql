-- What implanted devices count: the seconds of arrhythmia of every day. A day without a row was not recorded.
CREATE TABLE "device_days" (
  "lab_id" UUID NOT NULL,
  "patient_id" UUID NOT NULL,
  "day" DATE NOT NULL,
  "device" TEXT NOT NULL,
  "burden_seconds" INTEGER NOT NULL,
  "longest_episode_seconds" INTEGER,
  "import_batch_id" UUID,
  CONSTRAINT "device_days_pkey" PRIMARY KEY (lab_id, patient_id, day)
);
ALTER TABLE "device_days" ADD CONSTRAINT "device_days_lab_id_patient_id_fkey" FOREIGN KEY (lab_id, patient_id) REFERENCES "patients" (lab_id, id) ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "device_days"
  ADD CONSTRAINT "device_days_burden_fits_a_day" CHECK (burden_seconds BETWEEN 0 AND 86400),
  ADD CONSTRAINT "device_days_longest_fits_the_burden" CHECK (longest_episode_seconds IS NULL OR longest_episode_seconds BETWEEN 1 AND burden_seconds);

-- A file that is written patient by patient: how far it has come. Both null for files that are written all at once.
ALTER TABLE "import_batches"
  ADD COLUMN "patients_planned" INTEGER,
  ADD COLUMN "patients_done" INTEGER,
  ADD CONSTRAINT "import_batches_progress_is_whole" CHECK ((patients_planned IS NULL) = (patients_done IS NULL)),
  ADD CONSTRAINT "import_batches_progress_possible" CHECK (patients_done BETWEEN 0 AND patients_planned);
