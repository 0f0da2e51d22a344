'use client';

import { FieldGroup } from '@/components/forms/field-group';
import { SelectField } from '@/components/forms/select-field';
import { AMENDMENT_REASONS } from '@/lib/registry/vocabulary';

/** Why a stored entry is changed: it stands in the audit trail beside the old and the new value. */
export function AmendmentReason() {
  return (
    <FieldGroup legend="Why it changes">
      <SelectField
        name="reason"
        label="Reason for the change"
        hint="The trail keeps the old value, the new one, and this."
        choices={AMENDMENT_REASONS}
        emptyLabel="choose one"
        required
      />
    </FieldGroup>
  );
}
