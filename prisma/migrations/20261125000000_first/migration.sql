-- The registry's first shape. Column order follows prisma/schema.prisma; checks and triggers stand below the tables.
CREATE TABLE "labs" (
  "id" UUID NOT NULL,
  "name" TEXT NOT NULL,
  "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
  CONSTRAINT "labs_pkey" PRIMARY KEY (id)
);

CREATE TABLE "users" (
  "lab_id" UUID NOT NULL,
  "id" UUID NOT NULL,
  "sign_in_name" TEXT NOT NULL,
  "code" TEXT NOT NULL,
  "role" TEXT NOT NULL,
  "password_hash" TEXT NOT NULL,
  "token_version" INTEGER NOT NULL DEFAULT 1,
  "disabled_at" TIMESTAMPTZ(3),
  "version" INTEGER NOT NULL DEFAULT 1,
  "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
  CONSTRAINT "users_pkey" PRIMARY KEY (lab_id, id)
);

CREATE TABLE "operators" (
  "lab_id" UUID NOT NULL,
  "id" UUID NOT NULL,
  "code" TEXT NOT NULL,
  "retired_on" DATE,
  "version" INTEGER NOT NULL DEFAULT 1,
  CONSTRAINT "operators_pkey" PRIMARY KEY (lab_id, id)
);

CREATE TABLE "patients" (
  "lab_id" UUID NOT NULL,
  "id" UUID NOT NULL,
  "code" TEXT NOT NULL,
  "birth_year" INTEGER NOT NULL,
  "sex" TEXT NOT NULL,
  "hospital_number_hash" BYTEA,
  "hospital_number_key_id" TEXT,
  "cohort_tag" TEXT,
  "region_code" TEXT,
  "died_on" DATE,
  "death_cause" TEXT,
  "death_related" TEXT,
  "consent_withdrawn_on" DATE,
  "transferred_on" DATE,
  "import_batch_id" UUID,
  "import_reference_hash" BYTEA,
  "version" INTEGER NOT NULL DEFAULT 1,
  "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
  CONSTRAINT "patients_pkey" PRIMARY KEY (lab_id, id)
);

CREATE TABLE "patient_keys" (
  "lab_id" UUID NOT NULL,
  "patient_id" UUID NOT NULL,
  "wrapped_key" BYTEA,
  "master_key_id" TEXT NOT NULL,
  "destroyed_at" TIMESTAMPTZ(3),
  CONSTRAINT "patient_keys_pkey" PRIMARY KEY (lab_id, patient_id)
);

CREATE TABLE "procedures" (
  "lab_id" UUID NOT NULL,
  "id" UUID NOT NULL,
  "patient_id" UUID NOT NULL,
  "ordinal" INTEGER NOT NULL,
  "performed_on" DATE NOT NULL,
  "age_years" INTEGER,
  "operator_id" UUID,
  "indication" TEXT,
  "energy" TEXT,
  "device_type" TEXT,
  "device_lot" TEXT,
  "steering" TEXT,
  "imaging" TEXT,
  "anaesthesia" TEXT,
  "thrombus_exclusion" TEXT,
  "anticoagulation" TEXT,
  "aborted_reason" TEXT,
  "intended_strategy" TEXT,
  "settled_strategy" TEXT,
  "veins" TEXT[],
  "rhythm_at_start" TEXT,
  "rhythm_at_end" TEXT,
  "procedure_minutes" INTEGER,
  "fluoroscopy_seconds" INTEGER,
  "dap_gy_cm2" DECIMAL(8,2),
  "air_kerma_mgy" DECIMAL(8,1),
  "heparin_units" INTEGER,
  "lowest_act_s" INTEGER,
  "entrance_block" TEXT,
  "exit_block" TEXT,
  "waiting_minutes" INTEGER,
  "drug_challenge" TEXT,
  "discharged_on" DATE,
  "state" TEXT NOT NULL DEFAULT 'entered',
  "signed_by_id" UUID,
  "signed_at" TIMESTAMPTZ(3),
  "import_batch_id" UUID,
  "version" INTEGER NOT NULL DEFAULT 1,
  "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
  CONSTRAINT "procedures_pkey" PRIMARY KEY (lab_id, id)
);

CREATE TABLE "baselines" (
  "lab_id" UUID NOT NULL,
  "procedure_id" UUID NOT NULL,
  "af_type" TEXT,
  "longest_episode_days" INTEGER,
  "episode_ending" TEXT,
  "af_since_year" INTEGER,
  "symptom_score" TEXT,
  "la_diameter_mm" INTEGER,
  "la_volume_index_ml_m2" DECIMAL(5,1),
  "lvef_pct" INTEGER,
  "bmi_kg_m2" DECIMAL(4,1),
  "egfr_ml_min_173m2" INTEGER,
  "structural_heart_disease" BOOLEAN,
  "heart_failure" BOOLEAN,
  "hypertension" BOOLEAN,
  "diabetes" BOOLEAN,
  "stroke_history" BOOLEAN,
  "vascular_disease" BOOLEAN,
  "coronary_disease" BOOLEAN,
  "copd" BOOLEAN,
  "sleep_apnoea" BOOLEAN,
  "smoker" BOOLEAN,
  "prior_cardioversions" INTEGER,
  "failed_antiarrhythmics" INTEGER,
  "version" INTEGER NOT NULL DEFAULT 1,
  CONSTRAINT "baselines_pkey" PRIMARY KEY (lab_id, procedure_id)
);

CREATE TABLE "lesion_elements" (
  "lab_id" UUID NOT NULL,
  "id" UUID NOT NULL,
  "procedure_id" UUID NOT NULL,
  "structure" TEXT NOT NULL,
  "segment" TEXT NOT NULL,
  "state" TEXT NOT NULL,
  "state_reason" TEXT,
  "distance_mm" DECIMAL(4,1),
  "amplitude_before_uv" INTEGER,
  "amplitude_after_uv" INTEGER,
  "applications" INTEGER,
  "total_seconds" INTEGER,
  "longest_seconds" INTEGER,
  "first_pass" BOOLEAN,
  "final_check" BOOLEAN,
  "block" TEXT,
  "block_test" TEXT,
  "vagal_response" BOOLEAN,
  "reconnected" BOOLEAN,
  "version" INTEGER NOT NULL DEFAULT 1,
  CONSTRAINT "lesion_elements_pkey" PRIMARY KEY (lab_id, id)
);

CREATE TABLE "complications" (
  "lab_id" UUID NOT NULL,
  "id" UUID NOT NULL,
  "procedure_id" UUID NOT NULL,
  "procedure_performed_on" DATE NOT NULL,
  "type" TEXT NOT NULL,
  "severity" TEXT NOT NULL,
  "onset_on" DATE NOT NULL,
  "treatment" TEXT,
  "outcome" TEXT,
  "attribution" TEXT,
  "resolved_on" DATE,
  "reported_by_id" UUID,
  "adjudicated_type" TEXT,
  "adjudicated_severity" TEXT,
  "adjudicated_by_id" UUID,
  "adjudicated_at" TIMESTAMPTZ(3),
  "version" INTEGER NOT NULL DEFAULT 1,
  "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
  CONSTRAINT "complications_pkey" PRIMARY KEY (lab_id, id)
);

CREATE TABLE "follow_up_visits" (
  "lab_id" UUID NOT NULL,
  "id" UUID NOT NULL,
  "patient_id" UUID NOT NULL,
  "procedure_id" UUID NOT NULL,
  "procedure_performed_on" DATE NOT NULL,
  "slot" TEXT NOT NULL,
  "visited_on" DATE NOT NULL,
  "mode" TEXT NOT NULL,
  "rhythm" TEXT,
  "symptoms" TEXT,
  "drugs_reviewed" BOOLEAN NOT NULL DEFAULT false,
  "anticoagulated" BOOLEAN,
  "version" INTEGER NOT NULL DEFAULT 1,
  "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
  CONSTRAINT "follow_up_visits_pkey" PRIMARY KEY (lab_id, id)
);

CREATE TABLE "recordings" (
  "lab_id" UUID NOT NULL,
  "id" UUID NOT NULL,
  "patient_id" UUID NOT NULL,
  "visit_id" UUID,
  "kind" TEXT NOT NULL,
  "started_on" DATE NOT NULL,
  "ended_on" DATE NOT NULL,
  "duration_minutes" INTEGER,
  "rhythm" TEXT NOT NULL,
  "whole_tracing" BOOLEAN NOT NULL DEFAULT false,
  "longest_episode_seconds" INTEGER,
  "episode_started_on" DATE,
  "episode_ended_on" DATE,
  "burden_pct" DECIMAL(5,2),
  "symptomatic" BOOLEAN,
  "source" TEXT NOT NULL,
  "import_batch_id" UUID,
  "version" INTEGER NOT NULL DEFAULT 1,
  "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
  CONSTRAINT "recordings_pkey" PRIMARY KEY (lab_id, id)
);

CREATE TABLE "drug_episodes" (
  "lab_id" UUID NOT NULL,
  "id" UUID NOT NULL,
  "patient_id" UUID NOT NULL,
  "drug" TEXT NOT NULL,
  "started_on" DATE NOT NULL,
  "stopped_on" DATE,
  "stop_reason" TEXT,
  "version" INTEGER NOT NULL DEFAULT 1,
  "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
  CONSTRAINT "drug_episodes_pkey" PRIMARY KEY (lab_id, id)
);

CREATE TABLE "cardioversions" (
  "lab_id" UUID NOT NULL,
  "id" UUID NOT NULL,
  "patient_id" UUID NOT NULL,
  "performed_on" DATE NOT NULL,
  "kind" TEXT NOT NULL,
  "version" INTEGER NOT NULL DEFAULT 1,
  "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
  CONSTRAINT "cardioversions_pkey" PRIMARY KEY (lab_id, id)
);

CREATE TABLE "endpoint_definitions" (
  "lab_id" UUID NOT NULL,
  "id" UUID NOT NULL,
  "name" TEXT NOT NULL,
  "version_number" INTEGER NOT NULL,
  "rules" JSONB NOT NULL,
  "note" TEXT,
  "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
  "created_by_id" UUID,
  CONSTRAINT "endpoint_definitions_pkey" PRIMARY KEY (lab_id, id)
);

CREATE TABLE "follow_up_schedules" (
  "lab_id" UUID NOT NULL,
  "id" UUID NOT NULL,
  "strategy" TEXT,
  "version_number" INTEGER NOT NULL,
  "slots" JSONB NOT NULL,
  "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
  "created_by_id" UUID,
  CONSTRAINT "follow_up_schedules_pkey" PRIMARY KEY (lab_id, id)
);

CREATE TABLE "import_batches" (
  "lab_id" UUID NOT NULL,
  "id" UUID NOT NULL,
  "source" TEXT NOT NULL,
  "file_sha256" BYTEA NOT NULL,
  "rows" INTEGER NOT NULL,
  "published" INTEGER NOT NULL,
  "refused" INTEGER NOT NULL,
  "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
  "created_by_id" UUID,
  CONSTRAINT "import_batches_pkey" PRIMARY KEY (lab_id, id)
);

CREATE TABLE "audit_entries" (
  "lab_id" UUID NOT NULL,
  "seq" BIGINT NOT NULL,
  "at" TIMESTAMPTZ(3) NOT NULL,
  "actor_kind" TEXT NOT NULL,
  "actor_id" TEXT NOT NULL,
  "action" TEXT NOT NULL,
  "entity" TEXT NOT NULL,
  "entity_id" TEXT NOT NULL,
  "patient_id" UUID,
  "sealed" BOOLEAN NOT NULL,
  "payload" BYTEA NOT NULL,
  "previous_hash" BYTEA NOT NULL,
  "hash" BYTEA NOT NULL,
  CONSTRAINT "audit_entries_pkey" PRIMARY KEY (lab_id, seq)
);

CREATE TABLE "audit_heads" (
  "lab_id" UUID NOT NULL,
  "seq" BIGINT NOT NULL,
  "hash" BYTEA NOT NULL,
  "data_version" BIGINT NOT NULL,
  CONSTRAINT "audit_heads_pkey" PRIMARY KEY (lab_id)
);

CREATE TABLE "analysis_rows" (
  "lab_id" UUID NOT NULL,
  "procedure_id" UUID NOT NULL,
  "patient_id" UUID NOT NULL,
  "patient_code" TEXT NOT NULL,
  "ordinal" INTEGER NOT NULL,
  "performed_on" DATE NOT NULL,
  "days_to_next" INTEGER,
  "days_to_death" INTEGER,
  "days_to_last_contact" INTEGER NOT NULL,
  "sex" TEXT NOT NULL,
  "birth_year" INTEGER NOT NULL,
  "age_years" INTEGER,
  "operator_code" TEXT,
  "energy" TEXT,
  "af_type" TEXT,
  "intended_strategy" TEXT,
  "derived_strategy" TEXT NOT NULL,
  "la_diameter_mm" INTEGER,
  "lvef_pct" INTEGER,
  "structural_heart_disease" BOOLEAN,
  "cohort_tag" TEXT,
  "evidence" INTEGER[],
  "rules_version" INTEGER NOT NULL,
  CONSTRAINT "analysis_rows_pkey" PRIMARY KEY (lab_id, procedure_id)
);

CREATE TABLE "drafts" (
  "lab_id" UUID NOT NULL,
  "id" UUID NOT NULL,
  "user_id" UUID NOT NULL,
  "form" TEXT NOT NULL,
  "subject" TEXT NOT NULL,
  "payload" JSONB NOT NULL,
  "version" INTEGER NOT NULL DEFAULT 1,
  "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
  CONSTRAINT "drafts_pkey" PRIMARY KEY (lab_id, id)
);

CREATE TABLE "write_requests" (
  "lab_id" UUID NOT NULL,
  "idempotency_key" UUID NOT NULL,
  "user_id" TEXT NOT NULL,
  "action" TEXT NOT NULL,
  "values_hash" BYTEA NOT NULL,
  "outcome" JSONB NOT NULL,
  "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
  CONSTRAINT "write_requests_pkey" PRIMARY KEY (lab_id, idempotency_key)
);

CREATE TABLE "setup_links" (
  "token_hash" BYTEA NOT NULL,
  "lab_id" UUID NOT NULL,
  "expires_at" TIMESTAMPTZ(3) NOT NULL,
  "used_at" TIMESTAMPTZ(3),
  CONSTRAINT "setup_links_pkey" PRIMARY KEY (token_hash)
);

CREATE TABLE "sign_in_counters" (
  "bucket" TEXT NOT NULL,
  "failures" INTEGER NOT NULL,
  "updated_at" TIMESTAMPTZ(3) NOT NULL,
  CONSTRAINT "sign_in_counters_pkey" PRIMARY KEY (bucket)
);

CREATE UNIQUE INDEX "users_sign_in_name_key" ON "users" (sign_in_name);
CREATE UNIQUE INDEX "users_lab_id_code_key" ON "users" (lab_id, code);
CREATE UNIQUE INDEX "operators_lab_id_code_key" ON "operators" (lab_id, code);
CREATE UNIQUE INDEX "patients_lab_id_code_key" ON "patients" (lab_id, code);
CREATE UNIQUE INDEX "patients_lab_id_hospital_number_key_id_hospital_number_hash_key" ON "patients" (lab_id, hospital_number_key_id, hospital_number_hash);
CREATE UNIQUE INDEX "patients_lab_id_import_reference_hash_key" ON "patients" (lab_id, import_reference_hash);
CREATE UNIQUE INDEX "procedures_lab_id_patient_id_ordinal_key" ON "procedures" (lab_id, patient_id, ordinal);
CREATE UNIQUE INDEX "procedures_lab_id_id_performed_on_key" ON "procedures" (lab_id, id, performed_on);
CREATE UNIQUE INDEX "procedures_lab_id_id_patient_id_key" ON "procedures" (lab_id, id, patient_id);
CREATE INDEX "procedures_lab_id_performed_on_idx" ON "procedures" (lab_id, performed_on);
CREATE UNIQUE INDEX "lesion_elements_lab_id_procedure_id_structure_segment_key" ON "lesion_elements" (lab_id, procedure_id, structure, segment);
CREATE INDEX "complications_lab_id_procedure_id_idx" ON "complications" (lab_id, procedure_id);
CREATE UNIQUE INDEX "follow_up_visits_lab_id_procedure_id_slot_visited_on_key" ON "follow_up_visits" (lab_id, procedure_id, slot, visited_on);
CREATE INDEX "follow_up_visits_lab_id_patient_id_idx" ON "follow_up_visits" (lab_id, patient_id);
CREATE INDEX "recordings_lab_id_patient_id_started_on_idx" ON "recordings" (lab_id, patient_id, started_on);
CREATE INDEX "drug_episodes_lab_id_patient_id_started_on_idx" ON "drug_episodes" (lab_id, patient_id, started_on);
CREATE INDEX "cardioversions_lab_id_patient_id_idx" ON "cardioversions" (lab_id, patient_id);
CREATE UNIQUE INDEX "endpoint_definitions_lab_id_name_version_number_key" ON "endpoint_definitions" (lab_id, name, version_number);
CREATE UNIQUE INDEX "follow_up_schedules_lab_id_strategy_version_number_key" ON "follow_up_schedules" (lab_id, strategy, version_number);
CREATE UNIQUE INDEX "import_batches_lab_id_source_file_sha256_key" ON "import_batches" (lab_id, source, file_sha256);
CREATE INDEX "audit_entries_lab_id_entity_entity_id_idx" ON "audit_entries" (lab_id, entity, entity_id);
CREATE INDEX "audit_entries_lab_id_patient_id_idx" ON "audit_entries" (lab_id, patient_id);
CREATE INDEX "analysis_rows_lab_id_performed_on_idx" ON "analysis_rows" (lab_id, performed_on);
CREATE INDEX "analysis_rows_lab_id_patient_id_idx" ON "analysis_rows" (lab_id, patient_id);
CREATE UNIQUE INDEX "drafts_lab_id_user_id_form_subject_key" ON "drafts" (lab_id, user_id, form, subject);

ALTER TABLE "patient_keys" ADD CONSTRAINT "patient_keys_lab_id_patient_id_fkey" FOREIGN KEY (lab_id, patient_id) REFERENCES "patients" (lab_id, id) ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "procedures" ADD CONSTRAINT "procedures_lab_id_patient_id_fkey" FOREIGN KEY (lab_id, patient_id) REFERENCES "patients" (lab_id, id) ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "procedures" ADD CONSTRAINT "procedures_lab_id_operator_id_fkey" FOREIGN KEY (lab_id, operator_id) REFERENCES "operators" (lab_id, id) ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "baselines" ADD CONSTRAINT "baselines_lab_id_procedure_id_fkey" FOREIGN KEY (lab_id, procedure_id) REFERENCES "procedures" (lab_id, id) ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "lesion_elements" ADD CONSTRAINT "lesion_elements_lab_id_procedure_id_fkey" FOREIGN KEY (lab_id, procedure_id) REFERENCES "procedures" (lab_id, id) ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "complications" ADD CONSTRAINT "complications_lab_id_procedure_id_procedure_performed_on_fkey" FOREIGN KEY (lab_id, procedure_id, procedure_performed_on) REFERENCES "procedures" (lab_id, id, performed_on) ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "follow_up_visits" ADD CONSTRAINT "follow_up_visits_lab_id_patient_id_fkey" FOREIGN KEY (lab_id, patient_id) REFERENCES "patients" (lab_id, id) ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "follow_up_visits" ADD CONSTRAINT "follow_up_visits_lab_id_procedure_id_procedure_performed_on_fkey" FOREIGN KEY (lab_id, procedure_id, procedure_performed_on) REFERENCES "procedures" (lab_id, id, performed_on) ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "recordings" ADD CONSTRAINT "recordings_lab_id_patient_id_fkey" FOREIGN KEY (lab_id, patient_id) REFERENCES "patients" (lab_id, id) ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "recordings" ADD CONSTRAINT "recordings_lab_id_visit_id_fkey" FOREIGN KEY (lab_id, visit_id) REFERENCES "follow_up_visits" (lab_id, id) ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "drug_episodes" ADD CONSTRAINT "drug_episodes_lab_id_patient_id_fkey" FOREIGN KEY (lab_id, patient_id) REFERENCES "patients" (lab_id, id) ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "cardioversions" ADD CONSTRAINT "cardioversions_lab_id_patient_id_fkey" FOREIGN KEY (lab_id, patient_id) REFERENCES "patients" (lab_id, id) ON DELETE RESTRICT ON UPDATE CASCADE;

-- Every row belongs to a lab.
ALTER TABLE "users" ADD CONSTRAINT "users_lab_fkey" FOREIGN KEY (lab_id) REFERENCES "labs" (id);
ALTER TABLE "operators" ADD CONSTRAINT "operators_lab_fkey" FOREIGN KEY (lab_id) REFERENCES "labs" (id);
ALTER TABLE "patients" ADD CONSTRAINT "patients_lab_fkey" FOREIGN KEY (lab_id) REFERENCES "labs" (id);
ALTER TABLE "endpoint_definitions" ADD CONSTRAINT "endpoint_definitions_lab_fkey" FOREIGN KEY (lab_id) REFERENCES "labs" (id);
ALTER TABLE "follow_up_schedules" ADD CONSTRAINT "follow_up_schedules_lab_fkey" FOREIGN KEY (lab_id) REFERENCES "labs" (id);
ALTER TABLE "import_batches" ADD CONSTRAINT "import_batches_lab_fkey" FOREIGN KEY (lab_id) REFERENCES "labs" (id);
ALTER TABLE "audit_heads" ADD CONSTRAINT "audit_heads_lab_fkey" FOREIGN KEY (lab_id) REFERENCES "labs" (id);
ALTER TABLE "drafts" ADD CONSTRAINT "drafts_lab_fkey" FOREIGN KEY (lab_id) REFERENCES "labs" (id);
ALTER TABLE "write_requests" ADD CONSTRAINT "write_requests_lab_fkey" FOREIGN KEY (lab_id) REFERENCES "labs" (id);

-- A visit, and a recording taken at one, stay with the patient of their procedure.
ALTER TABLE "follow_up_visits" ADD CONSTRAINT "follow_up_visits_same_patient_fkey"
  FOREIGN KEY (lab_id, procedure_id, patient_id) REFERENCES "procedures" (lab_id, id, patient_id) ON UPDATE CASCADE;
CREATE UNIQUE INDEX "follow_up_visits_with_patient_key" ON "follow_up_visits" (lab_id, id, patient_id);
ALTER TABLE "recordings" ADD CONSTRAINT "recordings_same_patient_fkey"
  FOREIGN KEY (lab_id, visit_id, patient_id) REFERENCES "follow_up_visits" (lab_id, id, patient_id) ON UPDATE CASCADE;

-- What must never be.
ALTER TABLE "users"
  ADD CONSTRAINT "users_role_known" CHECK (role IN ('coordinator', 'physician', 'director', 'administrator'));
ALTER TABLE "patients"
  ADD CONSTRAINT "patients_code_shape" CHECK (code ~ '^P-[0-9A-Z]{4,8}-[0-9A-Z]$'),
  ADD CONSTRAINT "patients_birth_year_possible" CHECK (birth_year BETWEEN 1890 AND 2100),
  ADD CONSTRAINT "patients_sex_known" CHECK (sex IN ('female', 'male', 'unknown')),
  ADD CONSTRAINT "patients_death_has_day" CHECK (died_on IS NOT NULL OR (death_cause IS NULL AND death_related IS NULL)),
  ADD CONSTRAINT "patients_hash_has_key_id" CHECK ((hospital_number_hash IS NULL) = (hospital_number_key_id IS NULL)),
  ADD CONSTRAINT "patients_hash_is_a_hash" CHECK (hospital_number_hash IS NULL OR octet_length(hospital_number_hash) = 32);
ALTER TABLE "patient_keys"
  ADD CONSTRAINT "patient_keys_present_or_destroyed" CHECK ((wrapped_key IS NULL) = (destroyed_at IS NOT NULL));
ALTER TABLE "procedures"
  ADD CONSTRAINT "procedures_ordinal_counts_from_one" CHECK (ordinal BETWEEN 1 AND 20),
  ADD CONSTRAINT "procedures_age_possible" CHECK (age_years BETWEEN 0 AND 120),
  ADD CONSTRAINT "procedures_discharge_not_before" CHECK (discharged_on >= performed_on),
  ADD CONSTRAINT "procedures_minutes_possible" CHECK (procedure_minutes BETWEEN 1 AND 1440),
  ADD CONSTRAINT "procedures_fluoroscopy_possible" CHECK (fluoroscopy_seconds BETWEEN 0 AND 86400),
  ADD CONSTRAINT "procedures_dose_possible" CHECK (dap_gy_cm2 >= 0 AND air_kerma_mgy >= 0),
  ADD CONSTRAINT "procedures_state_known" CHECK (state IN ('draft', 'entered', 'signed')),
  ADD CONSTRAINT "procedures_signature_whole" CHECK ((signed_by_id IS NULL) = (signed_at IS NULL)
    AND (state = 'signed') = (signed_at IS NOT NULL));
ALTER TABLE "baselines"
  ADD CONSTRAINT "baselines_af_type_treatable" CHECK (af_type IN ('paroxysmal', 'early-persistent', 'persistent', 'long-standing-persistent')),
  ADD CONSTRAINT "baselines_episode_days_possible" CHECK (longest_episode_days BETWEEN 0 AND 36500),
  ADD CONSTRAINT "baselines_la_diameter_possible" CHECK (la_diameter_mm BETWEEN 10 AND 120),
  ADD CONSTRAINT "baselines_la_volume_possible" CHECK (la_volume_index_ml_m2 BETWEEN 5 AND 300),
  ADD CONSTRAINT "baselines_lvef_possible" CHECK (lvef_pct BETWEEN 5 AND 90),
  ADD CONSTRAINT "baselines_bmi_possible" CHECK (bmi_kg_m2 BETWEEN 10 AND 90),
  ADD CONSTRAINT "baselines_egfr_possible" CHECK (egfr_ml_min_173m2 BETWEEN 1 AND 200),
  ADD CONSTRAINT "baselines_counts_possible" CHECK (prior_cardioversions BETWEEN 0 AND 99 AND failed_antiarrhythmics BETWEEN 0 AND 20);
ALTER TABLE "lesion_elements"
  ADD CONSTRAINT "lesion_elements_state_known" CHECK (state IN ('done', 'not-done', 'not-applicable', 'not-recorded')),
  ADD CONSTRAINT "lesion_elements_reason_when_not_applicable" CHECK (state <> 'not-applicable' OR state_reason IS NOT NULL),
  ADD CONSTRAINT "lesion_elements_distance_possible" CHECK (distance_mm BETWEEN 0 AND 60),
  ADD CONSTRAINT "lesion_elements_amplitude_possible" CHECK (amplitude_before_uv BETWEEN 0 AND 20000 AND amplitude_after_uv BETWEEN 0 AND 20000),
  ADD CONSTRAINT "lesion_elements_seconds_agree" CHECK (longest_seconds <= total_seconds);
ALTER TABLE "complications"
  ADD CONSTRAINT "complications_not_before_procedure" CHECK (onset_on >= procedure_performed_on),
  ADD CONSTRAINT "complications_end_not_before_onset" CHECK (resolved_on >= onset_on),
  ADD CONSTRAINT "complications_severity_known" CHECK (severity IN ('major', 'minor')),
  ADD CONSTRAINT "complications_two_people" CHECK (adjudicated_by_id IS DISTINCT FROM reported_by_id OR adjudicated_by_id IS NULL);
ALTER TABLE "follow_up_visits"
  ADD CONSTRAINT "follow_up_visits_not_before_procedure" CHECK (visited_on >= procedure_performed_on);
ALTER TABLE "recordings"
  ADD CONSTRAINT "recordings_end_not_before_start" CHECK (ended_on >= started_on),
  ADD CONSTRAINT "recordings_episode_end_not_before_start" CHECK (episode_ended_on >= episode_started_on),
  ADD CONSTRAINT "recordings_episode_has_start" CHECK (episode_started_on IS NOT NULL OR episode_ended_on IS NULL),
  ADD CONSTRAINT "recordings_episode_inside" CHECK (episode_started_on >= started_on AND COALESCE(episode_ended_on, episode_started_on) <= ended_on),
  ADD CONSTRAINT "recordings_duration_possible" CHECK (duration_minutes >= 0),
  ADD CONSTRAINT "recordings_episode_seconds_possible" CHECK (longest_episode_seconds >= 0),
  ADD CONSTRAINT "recordings_burden_is_a_share" CHECK (burden_pct BETWEEN 0 AND 100),
  ADD CONSTRAINT "recordings_source_known" CHECK (source IN ('seen', 'reported'));
ALTER TABLE "drug_episodes"
  ADD CONSTRAINT "drug_episodes_stop_not_before_start" CHECK (stopped_on >= started_on);
ALTER TABLE "cardioversions"
  ADD CONSTRAINT "cardioversions_kind_known" CHECK (kind IN ('electrical', 'pharmacological'));
ALTER TABLE "endpoint_definitions"
  ADD CONSTRAINT "endpoint_definitions_version_counts_from_one" CHECK (version_number >= 1);
ALTER TABLE "analysis_rows"
  ADD CONSTRAINT "analysis_rows_evidence_in_fives" CHECK (COALESCE(array_length(evidence, 1), 0) % 5 = 0);

-- The trail is append-only, whoever asks; definitions are versioned, never edited.
CREATE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION '% on % is refused: its rows are never changed', TG_OP, TG_TABLE_NAME USING ERRCODE = '42501';
END $$;
CREATE TRIGGER "audit_entries_append_only" BEFORE UPDATE OR DELETE ON "audit_entries" FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "audit_entries_never_emptied" BEFORE TRUNCATE ON "audit_entries" FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "endpoint_definitions_never_edited" BEFORE UPDATE OR DELETE ON "endpoint_definitions" FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "endpoint_definitions_never_emptied" BEFORE TRUNCATE ON "endpoint_definitions" FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "follow_up_schedules_never_edited" BEFORE UPDATE OR DELETE ON "follow_up_schedules" FOR EACH ROW EXECUTE FUNCTION refuse_change();

-- An entry continues the chain from the head, by one.
CREATE FUNCTION chain_from_head() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE last RECORD;
BEGIN
  SELECT seq, hash INTO last FROM audit_entries WHERE lab_id = NEW.lab_id ORDER BY seq DESC LIMIT 1;
  IF NOT FOUND THEN
    IF NEW.seq <> 1 THEN RAISE EXCEPTION 'audit entry % does not begin the chain', NEW.seq USING ERRCODE = '23514'; END IF;
  ELSIF NEW.seq <> last.seq + 1 OR NEW.previous_hash <> last.hash THEN
    RAISE EXCEPTION 'audit entry % does not continue the chain after %', NEW.seq, last.seq USING ERRCODE = '23514';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "audit_entries_chained" BEFORE INSERT ON "audit_entries" FOR EACH ROW EXECUTE FUNCTION chain_from_head();
