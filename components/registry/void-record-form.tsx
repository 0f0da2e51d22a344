'use client';

import { FieldGroup } from '@/components/forms/field-group';
import { RecordForm } from '@/components/forms/record-form';
import { SelectField } from '@/components/forms/select-field';
import { VOID_REASONS } from '@/lib/registry/complication-vocabulary';
import { VOID_LABELS } from '@/lib/registry/forms/field-labels';
import { type VoidFormInput, voidFormSchema } from '@/lib/registry/forms/void-form';
import type { WriteInput, WriteResult } from '@/lib/registry/write-result';

interface VoidEntryFormProps {
  readonly action: (input: WriteInput<VoidFormInput>) => Promise<WriteResult>;
  readonly version: number;
}

/** For an entry that should never have been made: folded away, so that it is not taken for the way to change one. */
export function VoidEntryForm({ action, version }: VoidEntryFormProps) {
  return (
    <details>
      <summary>Should this entry never have been made?</summary>
      <RecordForm
        label="Void the entry"
        schema={voidFormSchema}
        defaultValues={{ version, reason: '' }}
        action={action}
        saveLabel="Void this entry"
      >
        <FieldGroup
          legend="Void the entry"
          hint="A void entry counts nowhere and cannot be changed any more. It stays readable here and in the history."
        >
          <SelectField<VoidFormInput>
            name="reason"
            label={VOID_LABELS.reason}
            choices={VOID_REASONS}
            emptyLabel="choose one"
            required
          />
        </FieldGroup>
      </RecordForm>
    </details>
  );
}
