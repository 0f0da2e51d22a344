'use client';

import { useFormState, useWatch } from 'react-hook-form';
import { ChoiceField } from '@/components/forms/choice-field';
import { DayField } from '@/components/forms/day-field';
import { FieldGroup, FieldRow } from '@/components/forms/field-group';
import { RecordForm } from '@/components/forms/record-form';
import { SelectField } from '@/components/forms/select-field';
import type { DraftKeeping } from '@/components/forms/use-draft';
import { SCHEDULE_LABELS as LABELS } from '@/lib/registry/forms/field-labels';
import { checkSchedule, type ScheduleContext } from '@/lib/registry/forms/schedule-checks';
import {
  FOR_ALL,
  SCHEDULE_COURSES,
  SCHEDULE_SCOPES,
  type ScheduleFormInput,
  type ScheduleSaveInput,
  scheduleFormSchema,
  scheduleSaveSchema,
} from '@/lib/registry/forms/schedule-form';
import type { WriteInput, WriteResult } from '@/lib/registry/write-result';
import { ScheduleRows } from './schedule-rows';

type Save<Values> = (input: WriteInput<Values>) => Promise<WriteResult>;

interface ScheduleRecordFormProps {
  readonly action: Save<ScheduleFormInput>;
  readonly values: ScheduleFormInput;
  readonly context: ScheduleContext;
  readonly draft: DraftKeeping;
}

/** Writes a new version of a schedule. Nothing is stored yet: what it would move is shown first. */
export function ScheduleRecordForm({ action, values, context, draft }: ScheduleRecordFormProps) {
  return (
    <RecordForm
      label="New version of a schedule"
      schema={scheduleFormSchema}
      defaultValues={values}
      action={action}
      draft={draft}
      check={(typed) => checkSchedule(typed, context)}
      saveLabel="See what moves"
      cancelHref="/lab/schedule"
    >
      <ScheduleFields today={context.today} />
    </RecordForm>
  );
}

function ScheduleFields({ today }: { today: string }) {
  const [scope, course] = useWatch<ScheduleFormInput, ['scope', 'course']>({ name: ['scope', 'course'] });
  const { errors } = useFormState<ScheduleFormInput>();
  // A choice that holds something stays in sight, so that a finding about it can be mended.
  const mayGoBack = scope !== FOR_ALL || course === 'as-for-all';
  return (
    <>
      <FieldGroup legend="Version">
        <FieldRow>
          <SelectField<ScheduleFormInput>
            name="scope"
            label={LABELS.scope}
            hint="A strategy without a schedule of its own follows the one for all."
            choices={SCHEDULE_SCOPES}
            emptyLabel="choose one"
            required
          />
          <DayField<ScheduleFormInput>
            name="effectiveOn"
            label={LABELS.effectiveOn}
            hint="What is open by then stays as it is."
            today={today}
            required
          />
          {mayGoBack ? (
            <ChoiceField<ScheduleFormInput>
              name="course"
              label={LABELS.course}
              choices={SCHEDULE_COURSES}
              required
            />
          ) : null}
        </FieldRow>
      </FieldGroup>
      {course === 'as-for-all' && !errors.slots ? null : <ScheduleRows />}
    </>
  );
}

interface ScheduleSaveFormProps {
  readonly action: Save<ScheduleSaveInput>;
  readonly values: ScheduleSaveInput;
  readonly saveLabel: string;
}

/** Stores the version that the page shows, as it is shown. */
export function ScheduleSaveForm({ action, values, saveLabel }: ScheduleSaveFormProps) {
  return (
    <RecordForm
      label="Save the version"
      schema={scheduleSaveSchema}
      defaultValues={values}
      action={action}
      saveLabel={saveLabel}
      cancelHref="/lab/schedule"
    >
      <p>A stored version is never changed: a mistake is mended by the next one.</p>
    </RecordForm>
  );
}
