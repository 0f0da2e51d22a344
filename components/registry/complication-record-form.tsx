'use client';

import { DayField } from '@/components/forms/day-field';
import { FieldGroup, FieldRow } from '@/components/forms/field-group';
import { RecordForm } from '@/components/forms/record-form';
import { SelectField } from '@/components/forms/select-field';
import type { DraftKeeping } from '@/components/forms/use-draft';
import { ATTRIBUTIONS, OUTCOMES, TREATMENTS } from '@/lib/registry/complication-vocabulary';
import {
  type ComplicationContext,
  checkComplicationAgainstCase,
} from '@/lib/registry/forms/complication-checks';
import {
  type ComplicationAmendmentInput,
  type ComplicationFormInput,
  complicationAmendmentSchema,
  complicationFormSchema,
  emptyComplicationForm,
} from '@/lib/registry/forms/complication-form';
import { COMPLICATION_LABELS as LABELS } from '@/lib/registry/forms/field-labels';
import type { WriteInput, WriteResult } from '@/lib/registry/write-result';
import { AmendmentReason } from './amendment-reason';
import { FactsFields } from './complication-fields';
import { wordsForHarm } from './complication-words';

type Save<Values> = (input: WriteInput<Values>) => Promise<WriteResult>;

interface Shared {
  readonly context: ComplicationContext;
  readonly cancelHref: string;
  readonly draft: DraftKeeping;
}

/** Reports a complication of a case. */
export function NewComplicationForm({ action, ...shared }: Shared & { action: Save<ComplicationFormInput> }) {
  return (
    <RecordForm
      label="New complication"
      schema={complicationFormSchema}
      defaultValues={emptyComplicationForm}
      action={action}
      draft={shared.draft}
      check={(values) => checkComplicationAgainstCase(values, shared.context)}
      saveLabel="Report the complication"
      cancelHref={shared.cancelHref}
    >
      <ReportFields context={shared.context} />
    </RecordForm>
  );
}

interface EditComplicationProps extends Shared {
  readonly action: Save<ComplicationAmendmentInput>;
  readonly values: ComplicationFormInput;
  readonly version: number;
}

/** Changes what was reported, with the reason. */
export function EditComplicationForm({ action, values, version, ...shared }: EditComplicationProps) {
  return (
    <RecordForm
      label="Complication"
      schema={complicationAmendmentSchema}
      defaultValues={{ ...emptyComplicationForm, ...values, version, reason: '' }}
      action={action}
      draft={shared.draft}
      check={(typed) => checkComplicationAgainstCase(typed, shared.context)}
      wordsFor={wordsForHarm}
      saveLabel="Save the change"
      cancelHref={shared.cancelHref}
    >
      <ReportFields context={shared.context} />
      <AmendmentReason />
    </RecordForm>
  );
}

function ReportFields({ context: { performedOn, today } }: { context: ComplicationContext }) {
  return (
    <>
      <FactsFields performedOn={performedOn} today={today} labels={LABELS} />
      <FieldGroup
        legend="Course"
        hint="What is not known yet may stay empty; it stays on the list until it is resolved."
      >
        <FieldRow>
          <SelectField<ComplicationFormInput>
            name="treatment"
            label={LABELS.treatment}
            choices={TREATMENTS}
          />
          <SelectField<ComplicationFormInput> name="outcome" label={LABELS.outcome} choices={OUTCOMES} />
          <DayField<ComplicationFormInput> name="resolvedOn" label={LABELS.resolvedOn} today={today} />
          <SelectField<ComplicationFormInput>
            name="attribution"
            label={LABELS.attribution}
            choices={ATTRIBUTIONS}
          />
        </FieldRow>
      </FieldGroup>
    </>
  );
}
