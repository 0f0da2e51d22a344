'use client';

import { RecordForm } from '@/components/forms/record-form';
import type { Choice } from '@/components/forms/select-field';
import type { DraftKeeping } from '@/components/forms/use-draft';
import { checkProcedureAgainstPatient, type ProcedureContext } from '@/lib/registry/forms/procedure-checks';
import {
  emptyProcedureForm,
  type ProcedureAmendmentInput,
  type ProcedureFormInput,
  procedureAmendmentSchema,
  procedureFormSchema,
} from '@/lib/registry/forms/procedure-form';
import type { WriteInput, WriteResult } from '@/lib/registry/write-result';
import { AmendmentReason } from './amendment-reason';
import { BaselineFields } from './baseline-fields';
import { ProcedureFields } from './procedure-fields';
import { wordsForProcedure } from './procedure-words';

type Save<Values> = (input: WriteInput<Values>) => Promise<WriteResult>;

interface Shared {
  readonly operators: readonly Choice[];
  readonly context: ProcedureContext;
  readonly cancelHref: string;
  readonly draft: DraftKeeping;
}

/** Records a procedure with what was known before it. */
export function NewProcedureForm({ action, ...shared }: Shared & { action: Save<ProcedureFormInput> }) {
  return (
    <RecordForm
      label="New procedure"
      schema={procedureFormSchema}
      defaultValues={emptyProcedureForm}
      action={action}
      draft={shared.draft}
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
      draft={shared.draft}
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
