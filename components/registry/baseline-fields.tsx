'use client';

import { ChecksField } from '@/components/forms/checks-field';
import { ChoiceField } from '@/components/forms/choice-field';
import { FieldGroup, FieldRow } from '@/components/forms/field-group';
import { NumberField } from '@/components/forms/number-field';
import { SelectField } from '@/components/forms/select-field';
import { DRUGS, type Drug } from '@/lib/registry/drugs';
import {
  BASELINE_CONDITIONS,
  type BaselineNumber,
  BASELINE_NUMBERS as NUMBERS,
} from '@/lib/registry/forms/baseline-entries';
import { BASELINE_LABELS as LABELS } from '@/lib/registry/forms/field-labels';
import type { ProcedureFormInput } from '@/lib/registry/forms/procedure-form';
import { LEGAL_BASES, QUALITY_INSTRUMENTS } from '@/lib/registry/procedure-vocabulary';
import { readUnit } from '@/lib/registry/units';
import { AF_TYPES, EPISODE_ENDINGS, SYMPTOM_SCORES } from '@/lib/registry/vocabulary';

const YES_NO = [
  { code: 'yes', label: 'yes' },
  { code: 'no', label: 'no' },
] as const;

function Amount({ name, hint }: { name: BaselineNumber; hint?: string }) {
  const { unit, decimals } = NUMBERS[name];
  return (
    <NumberField<ProcedureFormInput>
      name={`baseline.${name}`}
      label={LABELS[name]}
      hint={hint}
      unit={unit === '' ? undefined : readUnit(unit)}
      decimals={decimals > 0}
    />
  );
}

const classLabel = (drugClass: Drug['drugClass']): string =>
  drugClass === 'anticoagulant' ? 'Anticoagulants' : `Class ${drugClass}`;

/** Drugs by Vaughan Williams class, then anticoagulants. */
const DRUG_GROUPS = [...new Set(DRUGS.map(({ drugClass }) => drugClass))].map((drugClass) => ({
  label: classLabel(drugClass),
  choices: DRUGS.filter((drug) => drug.drugClass === drugClass),
}));

/** What was known before the procedure. Everything may stay empty: not known is not "no". */
export function BaselineFields() {
  return (
    <>
      <FieldGroup legend="Atrial fibrillation before">
        <FieldRow>
          <SelectField<ProcedureFormInput>
            name="baseline.afType"
            label={LABELS.afType}
            hint="Left empty, it follows from the longest episode."
            choices={AF_TYPES}
          />
          <Amount name="longestEpisodeDays" />
          <SelectField<ProcedureFormInput>
            name="baseline.episodeEnding"
            label={LABELS.episodeEnding}
            choices={EPISODE_ENDINGS}
          />
        </FieldRow>
        <FieldRow>
          <Amount name="afSinceYear" hint="The year." />
          <SelectField<ProcedureFormInput>
            name="baseline.symptomScore"
            label={LABELS.symptomScore}
            choices={SYMPTOM_SCORES}
          />
          <Amount name="priorCardioversions" />
          <Amount name="failedAntiarrhythmics" />
        </FieldRow>
        <ChecksField<ProcedureFormInput> name="baseline.drugs" label={LABELS.drugs} groups={DRUG_GROUPS} />
        <FieldRow>
          <SelectField<ProcedureFormInput>
            name="baseline.legalBasis"
            label={LABELS.legalBasis}
            choices={LEGAL_BASES}
          />
          <SelectField<ProcedureFormInput>
            name="baseline.qualityInstrument"
            label={LABELS.qualityInstrument}
            hint="Only its total is kept."
            choices={QUALITY_INSTRUMENTS}
          />
          <Amount name="qualityScore" />
        </FieldRow>
      </FieldGroup>
      <FieldGroup legend="Heart and body">
        <FieldRow>
          <Amount name="laDiameterMm" hint="Antero-posterior. Never computed from the volume." />
          <Amount name="laVolumeIndexMlM2" />
          <Amount name="laAreaIndexCm2M2" />
          <Amount name="lvefPct" />
          <Amount name="bmiKgM2" />
          <Amount name="egfrMlMin173m2" />
        </FieldRow>
        <FieldRow>
          {BASELINE_CONDITIONS.map((name) => (
            <ChoiceField<ProcedureFormInput>
              key={name}
              name={`baseline.${name}`}
              label={LABELS[name]}
              choices={YES_NO}
              emptyLabel="not recorded"
            />
          ))}
        </FieldRow>
      </FieldGroup>
    </>
  );
}
