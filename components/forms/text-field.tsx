'use client';

import type { FieldPath, FieldValues } from 'react-hook-form';
import { Field, type FieldTexts } from './field';
import styles from './field.module.css';
import { useField } from './use-field';

interface TextFieldProps<Values extends FieldValues> extends FieldTexts {
  readonly name: FieldPath<Values>;
  readonly type?: 'text' | 'password';
  readonly autoComplete?: string;
  readonly maxLength?: number;
}

/** One line of text in a record form. Name the form's input type to have the path checked: `<TextField<VisitInput> ...>`. */
export function TextField<Values extends FieldValues = FieldValues>(props: TextFieldProps<Values>) {
  const { name, type = 'text', autoComplete = 'off', maxLength, ...texts } = props;
  const { id, error, warning, registration, initialText } = useField(name);
  return (
    <Field {...texts} id={id} name={name} error={error} warning={warning}>
      {(control) => (
        <input
          {...registration}
          {...control}
          defaultValue={initialText}
          type={type}
          autoComplete={autoComplete}
          autoCapitalize="none"
          spellCheck={false}
          maxLength={maxLength}
          className={styles.input}
        />
      )}
    </Field>
  );
}
