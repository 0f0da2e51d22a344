'use client';

import { FieldGroup } from '@/components/forms/field-group';
import { RecordForm } from '@/components/forms/record-form';
import { TextField } from '@/components/forms/text-field';
import type { WriteInput, WriteResult } from '@/lib/registry/write-result';
import { type FirstRunInput, firstRunSchema } from './schema';

interface FirstRunFormProps {
  readonly token: string;
  readonly action: (input: WriteInput<FirstRunInput>) => Promise<WriteResult>;
}

/** Makes the first administrator. */
export function FirstRunForm({ token, action }: FirstRunFormProps) {
  return (
    <RecordForm
      label="First administrator"
      schema={firstRunSchema}
      defaultValues={{ token, signInName: '', code: 'A-01', password: '', passwordAgain: '' }}
      action={action}
      saveLabel="Make the administrator"
    >
      <FieldGroup legend="First administrator">
        <TextField<FirstRunInput>
          name="signInName"
          label="Sign-in name"
          hint="Typed at sign-in. It need not be a person’s name."
          autoComplete="username"
          maxLength={40}
          required
        />
        <TextField<FirstRunInput>
          name="code"
          label="Code"
          hint="Stands in the audit trail and beside entries instead of a name."
          maxLength={6}
          required
        />
        <TextField<FirstRunInput>
          name="password"
          label="Password"
          type="password"
          hint="At least 15 characters; any characters count, blanks too. A password manager may fill it in."
          autoComplete="new-password"
          required
        />
        <TextField<FirstRunInput>
          name="passwordAgain"
          label="The same password again"
          type="password"
          autoComplete="new-password"
          required
        />
      </FieldGroup>
    </RecordForm>
  );
}
