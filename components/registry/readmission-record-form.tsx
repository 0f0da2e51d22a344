'use client';

import { DayField } from '@/components/forms/day-field';
import { FieldGroup, FieldRow } from '@/components/forms/field-group';
import { RecordForm } from '@/components/forms/record-form';
import { SelectField } from '@/components/forms/select-field';
import type { DraftKeeping } from '@/components/forms/use-draft';
import { READMISSION_LABELS as LABELS } from '@/lib/registry/forms/field-labels';
import {
  checkReadmissionAgainstCase,
  emptyReadmissionForm,
  type ReadmissionAmendmentInput,
  type ReadmissionContext,
  type ReadmissionFormInput,
  readmissionAmendmentSchema,
  readmissionFormSchema,
} from '@/lib/registry/forms/readmission-form';
import { READMISSION_CAUSES } from '@/lib/registry/readmission';
import type { WriteInput, WriteResult } from '@/lib/registry/write-result';
import { AmendmentReason } from './amendment-reason';
import { wordsForHarm } from './complication-words';

type Save<Values> = (input: WriteInput<Values>) => Promise<WriteResult>;

interface Shared {
  readonly context: ReadmissionContext;
  readonly cancelHref: string;
  readonly draft: DraftKeeping;
}

/** Enters a stay in hospital after the one for the procedure. */
export function NewReadmissionForm({ action, ...shared }: Shared & { action: Save<ReadmissionFormInput> }) {
  return (
    <RecordForm
      label="New readmission"
      schema={readmissionFormSchema}
      defaultValues={emptyReadmissionForm}
      action={action}
      draft={shared.draft}
      check={(values) => checkReadmissionAgainstCase(values, shared.context)}
      saveLabel="Save the readmission"
      cancelHref={shared.cancelHref}
    >
      <StayFields today={shared.context.today} />
    </RecordForm>
  );
}

interface EditReadmissionProps extends Shared {
  readonly action: Save<ReadmissionAmendmentInput>;
  readonly values: ReadmissionFormInput;
  readonly version: number;
}

/** Changes a readmission, with the reason. */
export function EditReadmissionForm({ action, values, version, ...shared }: EditReadmissionProps) {
  return (
    <RecordForm
      label="Readmission"
      schema={readmissionAmendmentSchema}
      defaultValues={{ ...emptyReadmissionForm, ...values, version, reason: '' }}
      action={action}
      draft={shared.draft}
      check={(typed) => checkReadmissionAgainstCase(typed, shared.context)}
      wordsFor={wordsForHarm}
      saveLabel="Save the change"
      cancelHref={shared.cancelHref}
    >
      <StayFields today={shared.context.today} />
      <AmendmentReason />
    </RecordForm>
  );
}

function StayFields({ today }: { today: string }) {
  return (
    <FieldGroup legend="Stay in hospital">
      <FieldRow>
        <DayField<ReadmissionFormInput> name="admittedOn" label={LABELS.admittedOn} today={today} required />
        <DayField<ReadmissionFormInput>
          name="dischargedOn"
          label={LABELS.dischargedOn}
          hint="Empty while the patient is in hospital, or when the day is not known."
        />
        <SelectField<ReadmissionFormInput>
          name="cause"
          label={LABELS.cause}
          choices={READMISSION_CAUSES}
          emptyLabel="choose one"
          required
        />
      </FieldRow>
    </FieldGroup>
  );
}
