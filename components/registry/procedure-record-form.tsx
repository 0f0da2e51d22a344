'use client';

import { ChoiceField } from '@/components/forms/choice-field';
import { DayField } from '@/components/forms/day-field';
import { FieldGroup, FieldRow } from '@/components/forms/field-group';
import { NumberField } from '@/components/forms/number-field';
import { RecordForm } from '@/components/forms/record-form';
import { type Choice, SelectField } from '@/components/forms/select-field';
import { PROCEDURE_LABELS as LABELS } from '@/lib/registry/forms/field-labels';
import { checkProcedureAgainstPatient, type ProcedureContext } from '@/lib/registry/forms/procedure-checks';
import {
  emptyProcedureForm,
  PROCEDURE_NUMBERS,
  type ProcedureAmendmentInput,
  type ProcedureFormInput,
  procedureAmendmentSchema,
  procedureFormSchema,
} from '@/lib/registry/forms/procedure-form';
import { ENERGIES, STEERINGS, STRATEGIES } from '@/lib/registry/vocabulary';
import type { WriteInput, WriteResult } from '@/lib/registry/write-result';
import { AmendmentReason } from './amendment-reason';
import { BaselineFields } from './baseline-fields';
import { wordsForProcedure } from './procedure-words';

type Save<Values> = (input: WriteInput<Values>) => Promise<WriteResult>;

interface Shared {
  readonly operators: readonly Choice[];
  readonly context: ProcedureContext;
  readonly cancelHref: string;
}

/** Records a procedure with what was known before it. */
export function NewProcedureForm({ action, ...shared }: Shared & { action: Save<ProcedureFormInput> }) {
  return (
    <RecordForm
      label="New procedure"
      schema={procedureFormSchema}
      defaultValues={emptyProcedureForm}
      action={action}
      check={(values) => checkProcedureAgainstPatient(values, shared.context)}
      saveLabel="Record the procedure"
      cancelHref={shared.cancelHref}
    >
      <ProcedureFields operators={shared.operators} today={shared.context.today} />
      <BaselineFields />
    </RecordForm>
  );
}

interface EditProcedureProps extends Shared {
  readonly action: Save<ProcedureAmendmentInput>;
  readonly values: ProcedureFormInput;
  readonly version: number;
}

/** Changes a procedure or its baseline, with the reason. */
export function EditProcedureForm({ action, values, version, ...shared }: EditProcedureProps) {
  return (
    <RecordForm
      label="Procedure"
      schema={procedureAmendmentSchema}
      defaultValues={{ ...emptyProcedureForm, ...values, version, reason: '' }}
      action={action}
      check={(typed) => checkProcedureAgainstPatient(typed, shared.context)}
      wordsFor={(field, value) => wordsForProcedure(field, value, shared.operators)}
      saveLabel="Save the change"
      cancelHref={shared.cancelHref}
    >
      <ProcedureFields operators={shared.operators} today={shared.context.today} />
      <BaselineFields />
      <AmendmentReason />
    </RecordForm>
  );
}

function ProcedureFields({ operators, today }: { operators: readonly Choice[]; today: string }) {
  return (
    <FieldGroup legend="Procedure">
      <FieldRow>
        <DayField<ProcedureFormInput> name="performedOn" label={LABELS.performedOn} today={today} required />
        <NumberField<ProcedureFormInput>
          name="ageYears"
          label={LABELS.ageYears}
          hint="Completed years: a birth year cannot decide 65 or 75."
          unit="years"
        />
        <SelectField<ProcedureFormInput> name="operatorId" label={LABELS.operatorId} choices={operators} />
      </FieldRow>
      <FieldRow>
        <SelectField<ProcedureFormInput>
          name="energy"
          label={LABELS.energy}
          choices={ENERGIES}
          emptyLabel="choose one"
          required
        />
        <SelectField<ProcedureFormInput>
          name="intendedStrategy"
          label={LABELS.intendedStrategy}
          hint="As the operator calls it. The lesion set derives its own."
          choices={STRATEGIES}
        />
        <ChoiceField<ProcedureFormInput>
          name="steering"
          label={LABELS.steering}
          choices={STEERINGS}
          emptyLabel="not recorded"
        />
      </FieldRow>
      <FieldRow>
        <NumberField<ProcedureFormInput>
          name="procedureMinutes"
          label={LABELS.procedureMinutes}
          unit={PROCEDURE_NUMBERS.procedureMinutes.unit}
        />
        <NumberField<ProcedureFormInput>
          name="fluoroscopyMinutes"
          label={LABELS.fluoroscopyMinutes}
          unit={PROCEDURE_NUMBERS.fluoroscopyMinutes.unit}
          decimals
        />
      </FieldRow>
    </FieldGroup>
  );
}
