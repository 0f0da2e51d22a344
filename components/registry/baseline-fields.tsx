'use client';

import { ChoiceField } from '@/components/forms/choice-field';
import { FieldGroup, FieldRow } from '@/components/forms/field-group';
import { NumberField } from '@/components/forms/number-field';
import { SelectField } from '@/components/forms/select-field';
import { BASELINE_NUMBERS as NUMBERS } from '@/lib/registry/forms/baseline-entries';
import { BASELINE_LABELS as LABELS } from '@/lib/registry/forms/field-labels';
import type { ProcedureFormInput } from '@/lib/registry/forms/procedure-form';
import { readUnit } from '@/lib/registry/units';
import { AF_TYPES, EPISODE_ENDINGS, SYMPTOM_SCORES } from '@/lib/registry/vocabulary';

const YES_NO = [
  { code: 'yes', label: 'yes' },
  { code: 'no', label: 'no' },
] as const;

type NumberName = keyof typeof NUMBERS;

function Amount({ name, hint }: { name: NumberName; hint?: string }) {
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

const CONDITIONS = [
  'structuralHeartDisease',
  'heartFailure',
  'hypertension',
  'diabetes',
  'strokeHistory',
  'vascularDisease',
  'coronaryDisease',
  'copd',
  'sleepApnoea',
  'smoker',
] as const;

/** What was known before the procedure. Everything may stay empty: not known is not "no". */
export function BaselineFields() {
  return (
    <>
      <FieldGroup legend="Atrial fibrillation before">
        <FieldRow>
          <SelectField<ProcedureFormInput>
            name="baseline.afType"
            label={LABELS.afType}
            hint="By the longest continuous episode."
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
      </FieldGroup>
      <FieldGroup legend="Heart and body">
        <FieldRow>
          <Amount name="laDiameterMm" hint="Antero-posterior. Never computed from the volume." />
          <Amount name="laVolumeIndexMlM2" />
          <Amount name="lvefPct" />
          <Amount name="bmiKgM2" />
          <Amount name="egfrMlMin173m2" />
        </FieldRow>
        <FieldRow>
          {CONDITIONS.map((name) => (
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
