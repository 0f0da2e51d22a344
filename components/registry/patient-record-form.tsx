'use client';

import { ChoiceField } from '@/components/forms/choice-field';
import { DayField } from '@/components/forms/day-field';
import { FieldGroup, FieldRow } from '@/components/forms/field-group';
import { NumberField } from '@/components/forms/number-field';
import { RecordForm } from '@/components/forms/record-form';
import { SelectField } from '@/components/forms/select-field';
import { TextField } from '@/components/forms/text-field';
import { calendarDay } from '@/lib/registry/calendar-day';
import { PATIENT_LABELS as LABELS } from '@/lib/registry/forms/field-labels';
import { checkPatientAgainstHistory, type PatientContext } from '@/lib/registry/forms/patient-checks';
import {
  emptyPatientForm,
  type PatientAmendmentInput,
  type PatientFormInput,
  patientAmendmentSchema,
  patientFormSchema,
} from '@/lib/registry/forms/patient-form';
import { DEATH_CAUSES, DEATH_RELATIONS, labelOf, SEXES } from '@/lib/registry/vocabulary';
import type { FormValue, WriteInput, WriteResult } from '@/lib/registry/write-result';
import { AmendmentReason } from './amendment-reason';

type Save<Values> = (input: WriteInput<Values>) => Promise<WriteResult>;

interface NewPatientProps {
  readonly action: Save<PatientFormInput>;
  readonly today: string;
}

/** Registers a patient: birth year, sex, and the number by which they can be found again. */
export function NewPatientForm({ action, today }: NewPatientProps) {
  const context: PatientContext = { today: calendarDay(today), procedures: [], lastSeenOn: null };
  return (
    <RecordForm
      label="New patient"
      schema={patientFormSchema}
      defaultValues={emptyPatientForm}
      action={action}
      check={(values) => checkPatientAgainstHistory(values, context)}
      saveLabel="Register the patient"
      cancelHref="/cases"
    >
      <WhoFields />
    </RecordForm>
  );
}

interface EditPatientProps {
  readonly action: Save<PatientAmendmentInput>;
  readonly values: PatientFormInput;
  readonly version: number;
  readonly context: PatientContext;
  readonly hasHospitalNumber: boolean;
  readonly cancelHref: string;
}

/** Changes a patient's entry, with the reason. */
export function EditPatientForm(props: EditPatientProps) {
  const { action, values, version, context, hasHospitalNumber, cancelHref } = props;
  return (
    <RecordForm
      label="Patient"
      schema={patientAmendmentSchema}
      defaultValues={{ ...emptyPatientForm, ...values, hospitalNumber: '', version, reason: '' }}
      action={action}
      check={(typed) => checkPatientAgainstHistory(typed, context)}
      wordsFor={wordsFor}
      saveLabel="Save the change"
      cancelHref={cancelHref}
    >
      <WhoFields hasHospitalNumber={hasHospitalNumber} />
      <FieldGroup legend="End of follow-up">
        <FieldRow>
          <DayField<PatientAmendmentInput> name="diedOn" label={LABELS.diedOn} />
          <SelectField<PatientAmendmentInput>
            name="deathCause"
            label={LABELS.deathCause}
            choices={DEATH_CAUSES}
          />
          <SelectField<PatientAmendmentInput>
            name="deathRelated"
            label={LABELS.deathRelated}
            choices={DEATH_RELATIONS}
          />
        </FieldRow>
        <FieldRow>
          <DayField<PatientAmendmentInput> name="consentWithdrawnOn" label={LABELS.consentWithdrawnOn} />
          <DayField<PatientAmendmentInput> name="transferredOn" label={LABELS.transferredOn} />
        </FieldRow>
      </FieldGroup>
      <AmendmentReason />
    </RecordForm>
  );
}

function WhoFields({ hasHospitalNumber }: { hasHospitalNumber?: boolean }) {
  return (
    <FieldGroup legend="Who" hint="No name and no date of birth: the code is made by the lab when you save.">
      <FieldRow>
        <NumberField<PatientFormInput> name="birthYear" label={LABELS.birthYear} required />
        <ChoiceField<PatientFormInput> name="sex" label={LABELS.sex} choices={SEXES} required />
      </FieldRow>
      <FieldRow>
        <TextField<PatientFormInput>
          name="hospitalNumber"
          label={LABELS.hospitalNumber}
          hint={
            hasHospitalNumber
              ? 'One is known already; leave this empty to keep it. Only its keyed hash is stored.'
              : 'To find the patient again. Only its keyed hash is stored.'
          }
          maxLength={40}
        />
        <TextField<PatientFormInput>
          name="regionCode"
          label={LABELS.regionCode}
          hint="The lab’s code of the region, such as NORTH-2."
          maxLength={12}
        />
      </FieldRow>
    </FieldGroup>
  );
}

const LISTS: Readonly<Record<string, typeof SEXES | typeof DEATH_CAUSES | typeof DEATH_RELATIONS>> = {
  sex: SEXES,
  deathCause: DEATH_CAUSES,
  deathRelated: DEATH_RELATIONS,
};

function wordsFor(field: string, value: FormValue): string {
  if (value === null || value === '') return 'nothing';
  const list = LISTS[field];
  return list ? labelOf(list, String(value)) : String(value);
}
