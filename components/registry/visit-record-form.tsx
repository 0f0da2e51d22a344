'use client';

import { CheckField } from '@/components/forms/check-field';
import { ChoiceField } from '@/components/forms/choice-field';
import { DayField } from '@/components/forms/day-field';
import { FieldGroup, FieldRow } from '@/components/forms/field-group';
import { RecordForm } from '@/components/forms/record-form';
import { SelectField } from '@/components/forms/select-field';
import type { DraftKeeping } from '@/components/forms/use-draft';
import { VISIT_LABELS as LABELS } from '@/lib/registry/forms/field-labels';
import { checkVisitAgainstCase, type VisitContext } from '@/lib/registry/forms/visit-checks';
import {
  emptyVisitForm,
  type VisitAmendmentInput,
  type VisitFormInput,
  visitAmendmentSchema,
  visitFormSchema,
} from '@/lib/registry/forms/visit-form';
import type { VisitSlot } from '@/lib/registry/visit-slots';
import { CARDIOVERSION_KINDS, RHYTHMS, SYMPTOM_SCORES, VISIT_MODES } from '@/lib/registry/vocabulary';
import type { WriteInput, WriteResult } from '@/lib/registry/write-result';
import { AmendmentReason } from './amendment-reason';
import { DrugRows } from './drug-rows';
import { RecordingRows } from './recording-rows';
import { SlotNeed } from './slot-need';
import { wordsForVisit } from './visit-words';

type Save<Values> = (input: WriteInput<Values>) => Promise<WriteResult>;

interface Shared {
  readonly slots: readonly VisitSlot[];
  readonly context: VisitContext;
  readonly cancelHref: string;
  readonly draft: DraftKeeping;
}

interface NewVisitProps extends Shared {
  readonly action: Save<VisitFormInput>;
  /** The slot that is due; 'unscheduled' when none is. */
  readonly proposedSlot: string;
}

const YES_NO = [
  { code: 'yes', label: 'yes' },
  { code: 'no', label: 'no' },
] as const;

/** Enters a follow-up visit: slot and day are proposed, an ECG of the day is ready to be filled. */
export function NewVisitForm({ action, proposedSlot, ...shared }: NewVisitProps) {
  const { today } = shared.context;
  return (
    <RecordForm
      label="New visit"
      schema={visitFormSchema}
      defaultValues={{ ...emptyVisitForm, slot: proposedSlot, visitedOn: today, mode: 'clinic' }}
      action={action}
      draft={shared.draft}
      check={(values) => checkVisitAgainstCase(values, shared.context)}
      saveLabel="Save the visit"
      cancelHref={shared.cancelHref}
    >
      <VisitFields slots={shared.slots} today={today} />
    </RecordForm>
  );
}

interface EditVisitProps extends Shared {
  readonly action: Save<VisitAmendmentInput>;
  readonly values: VisitFormInput;
  readonly version: number;
}

/** Changes a visit and its recordings, with the reason. */
export function EditVisitForm({ action, values, version, ...shared }: EditVisitProps) {
  return (
    <RecordForm
      label="Visit"
      schema={visitAmendmentSchema}
      defaultValues={{ ...emptyVisitForm, ...values, version, reason: '' }}
      action={action}
      draft={shared.draft}
      check={(typed) => checkVisitAgainstCase(typed, shared.context)}
      wordsFor={(field, value) => wordsForVisit(field, value, shared.slots)}
      saveLabel="Save the change"
      cancelHref={shared.cancelHref}
    >
      <VisitFields slots={shared.slots} today={shared.context.today} />
      <AmendmentReason />
    </RecordForm>
  );
}

function VisitFields({ slots, today }: { slots: readonly VisitSlot[]; today: string }) {
  return (
    <>
      <FieldGroup legend="Visit">
        <FieldRow>
          <SelectField<VisitFormInput>
            name="slot"
            label={LABELS.slot}
            hint={<SlotNeed slots={slots} />}
            choices={slots}
            emptyLabel="choose one"
            required
          />
          <DayField<VisitFormInput> name="visitedOn" label={LABELS.visitedOn} today={today} required />
          <ChoiceField<VisitFormInput> name="mode" label={LABELS.mode} choices={VISIT_MODES} required />
        </FieldRow>
        <FieldRow>
          <SelectField<VisitFormInput>
            name="rhythm"
            label={LABELS.rhythm}
            hint="As told or felt. Evidence is what the recordings below show."
            choices={RHYTHMS}
          />
          <SelectField<VisitFormInput> name="symptoms" label={LABELS.symptoms} choices={SYMPTOM_SCORES} />
          <ChoiceField<VisitFormInput>
            name="anticoagulated"
            label={LABELS.anticoagulated}
            choices={YES_NO}
            emptyLabel="not recorded"
          />
        </FieldRow>
      </FieldGroup>
      <RecordingRows today={today} />
      <DrugRows />
      <FieldGroup legend="Cardioversion since the last visit">
        <FieldRow>
          <ChoiceField<VisitFormInput>
            name="cardioversionKind"
            label={LABELS.cardioversionKind}
            choices={CARDIOVERSION_KINDS}
            emptyLabel="none"
          />
          <DayField<VisitFormInput> name="cardioversionOn" label={LABELS.cardioversionOn} />
        </FieldRow>
      </FieldGroup>
      <FieldGroup legend="Drugs known">
        <CheckField<VisitFormInput>
          name="drugsReviewed"
          label={LABELS.drugsReviewed}
          hint="Tick when the patient’s antiarrhythmic drugs are known up to this visit, changed or not."
        />
      </FieldGroup>
    </>
  );
}
