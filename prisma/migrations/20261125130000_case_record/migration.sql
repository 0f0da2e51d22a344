-- The whole record of a case: what scores, lesion sets, complications and signatures need.
ALTER TABLE "procedures"
  ADD COLUMN "left_atrial_minutes" INTEGER,
  ADD COLUMN "measured_in_rhythm" TEXT,
  ADD COLUMN "drug_challenge_result" TEXT,
  ADD COLUMN "amended_at" TIMESTAMPTZ(3),
  ADD CONSTRAINT "procedures_left_atrial_time_possible" CHECK (left_atrial_minutes BETWEEN 1 AND 1440),
  ADD CONSTRAINT "procedures_heparin_possible" CHECK (heparin_units BETWEEN 0 AND 200000),
  ADD CONSTRAINT "procedures_act_possible" CHECK (lowest_act_s BETWEEN 20 AND 2000),
  ADD CONSTRAINT "procedures_waiting_possible" CHECK (waiting_minutes BETWEEN 0 AND 1440),
  ADD CONSTRAINT "procedures_amended_once_signed" CHECK (amended_at IS NULL OR signed_at IS NOT NULL);

ALTER TABLE "baselines"
  ADD COLUMN "legal_basis" TEXT,
  ADD COLUMN "renal_disease" BOOLEAN,
  ADD COLUMN "liver_disease" BOOLEAN,
  ADD COLUMN "bleeding_history" BOOLEAN,
  ADD COLUMN "labile_inr" BOOLEAN,
  ADD COLUMN "antiplatelet_or_nsaid" BOOLEAN,
  ADD COLUMN "alcohol_excess" BOOLEAN,
  ADD COLUMN "uncontrolled_hypertension" BOOLEAN,
  ADD COLUMN "bundle_branch_block" BOOLEAN,
  ADD COLUMN "metabolic_syndrome" BOOLEAN,
  ADD COLUMN "cardiomyopathy" BOOLEAN,
  ADD COLUMN "drugs" TEXT[],
  ADD COLUMN "quality_instrument" TEXT,
  ADD COLUMN "quality_score" DECIMAL(5,1),
  ADD CONSTRAINT "baselines_quality_score_has_instrument" CHECK (quality_score IS NULL OR quality_instrument IS NOT NULL);

ALTER TABLE "lesion_elements"
  ADD CONSTRAINT "lesion_elements_counts_possible" CHECK (applications BETWEEN 0 AND 500 AND total_seconds BETWEEN 0 AND 36000
    AND longest_seconds BETWEEN 0 AND 3600);

ALTER TABLE "complications"
  ADD COLUMN "harms" TEXT[],
  ADD COLUMN "adjudicated_verdict" TEXT,
  ADD COLUMN "adjudicated_harms" TEXT[],
  ADD COLUMN "adjudicated_onset_on" DATE,
  ADD CONSTRAINT "complications_adjudicated_severity_known" CHECK (adjudicated_severity IN ('major', 'minor')),
  ADD CONSTRAINT "complications_adjudicated_onset_not_before_procedure" CHECK (adjudicated_onset_on >= procedure_performed_on),
  ADD CONSTRAINT "complications_verdict_known" CHECK (adjudicated_verdict IN ('confirmed', 'reclassified', 'refuted'));

-- Every stay in hospital after the discharge, whatever its cause.
CREATE TABLE "readmissions" (
  "lab_id" UUID NOT NULL,
  "id" UUID NOT NULL,
  "procedure_id" UUID NOT NULL,
  "procedure_performed_on" DATE NOT NULL,
  "admitted_on" DATE NOT NULL,
  "discharged_on" DATE,
  "cause" TEXT NOT NULL,
  "version" INTEGER NOT NULL DEFAULT 1,
  "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
  CONSTRAINT "readmissions_pkey" PRIMARY KEY (lab_id, id),
  CONSTRAINT "readmissions_not_before_procedure" CHECK (admitted_on >= procedure_performed_on),
  CONSTRAINT "readmissions_end_not_before_start" CHECK (discharged_on >= admitted_on)
);
CREATE INDEX "readmissions_lab_id_procedure_id_idx" ON "readmissions" (lab_id, procedure_id);
ALTER TABLE "readmissions" ADD CONSTRAINT "readmissions_lab_id_procedure_id_procedure_performed_on_fkey" FOREIGN KEY (lab_id, procedure_id, procedure_performed_on) REFERENCES "procedures" (lab_id, id, performed_on) ON DELETE RESTRICT ON UPDATE CASCADE;

-- Single applications of radiofrequency current, as a file brought them; the lesion set holds what follows from them.
CREATE TABLE "rf_applications" (
  "lab_id" UUID NOT NULL,
  "id" UUID NOT NULL,
  "procedure_id" UUID NOT NULL,
  "number" INTEGER NOT NULL,
  "structure" TEXT NOT NULL,
  "segment" TEXT NOT NULL,
  "start_second" INTEGER,
  "seconds" DECIMAL(6,1) NOT NULL,
  "power_w" DECIMAL(5,1),
  "temperature_c" DECIMAL(4,1),
  "impedance_start_ohm" INTEGER,
  "impedance_lowest_ohm" INTEGER,
  "amplitude_before_uv" INTEGER,
  "amplitude_after_uv" INTEGER,
  "version" INTEGER NOT NULL DEFAULT 1,
  CONSTRAINT "rf_applications_pkey" PRIMARY KEY (lab_id, id),
  CONSTRAINT "rf_applications_number_counts_from_one" CHECK (number BETWEEN 1 AND 2000),
  CONSTRAINT "rf_applications_seconds_possible" CHECK (seconds BETWEEN 0 AND 3600),
  CONSTRAINT "rf_applications_settings_possible" CHECK (power_w BETWEEN 0 AND 200 AND temperature_c BETWEEN 0 AND 120
    AND impedance_start_ohm BETWEEN 0 AND 1000 AND impedance_lowest_ohm BETWEEN 0 AND 1000),
  CONSTRAINT "rf_applications_amplitude_possible" CHECK (amplitude_before_uv BETWEEN 0 AND 20000 AND amplitude_after_uv BETWEEN 0 AND 20000)
);
CREATE UNIQUE INDEX "rf_applications_lab_id_procedure_id_number_key" ON "rf_applications" (lab_id, procedure_id, number);
ALTER TABLE "rf_applications" ADD CONSTRAINT "rf_applications_lab_id_procedure_id_fkey" FOREIGN KEY (lab_id, procedure_id) REFERENCES "procedures" (lab_id, id) ON DELETE RESTRICT ON UPDATE CASCADE;

-- A value outside its usual range that a person kept, and why.
CREATE TABLE "kept_values" (
  "lab_id" UUID NOT NULL,
  "id" UUID NOT NULL,
  "procedure_id" UUID NOT NULL,
  "field" TEXT NOT NULL,
  "value" TEXT NOT NULL,
  "reason" TEXT NOT NULL,
  "version" INTEGER NOT NULL DEFAULT 1,
  CONSTRAINT "kept_values_pkey" PRIMARY KEY (lab_id, id)
);
CREATE UNIQUE INDEX "kept_values_lab_id_procedure_id_field_key" ON "kept_values" (lab_id, procedure_id, field);
ALTER TABLE "kept_values" ADD CONSTRAINT "kept_values_lab_id_procedure_id_fkey" FOREIGN KEY (lab_id, procedure_id) REFERENCES "procedures" (lab_id, id) ON DELETE RESTRICT ON UPDATE CASCADE;

-- A draft goes with its patient when that patient is erased.
ALTER TABLE "drafts" ADD COLUMN "patient_id" UUID;
CREATE INDEX "drafts_lab_id_patient_id_idx" ON "drafts" (lab_id, patient_id);

-- Draft cases are counted apart, never among the analysed.
ALTER TABLE "analysis_rows" ADD COLUMN "state" TEXT NOT NULL DEFAULT 'entered';
