'use client';

import type { FieldPath, FieldValues } from 'react-hook-form';
import { Field, type FieldTexts } from './field';
import styles from './field.module.css';
import { useField } from './use-field';

interface NumberFieldProps<Values extends FieldValues> extends FieldTexts {
  readonly name: FieldPath<Values>;
  /** True where decimals make sense: chooses the on-screen keys only, the schema decides. */
  readonly decimals?: boolean;
}

/** A number with its unit. Plain text underneath: no wheel or arrow key changes a value unseen. */
export function NumberField<Values extends FieldValues = FieldValues>(props: NumberFieldProps<Values>) {
  const { name, decimals = false, ...texts } = props;
  const { id, error, warning, registration, initialText } = useField(name);
  return (
    <Field {...texts} id={id} name={name} error={error} warning={warning}>
      {(control) => (
        <input
          {...registration}
          {...control}
          defaultValue={initialText}
          type="text"
          inputMode={decimals ? 'decimal' : 'numeric'}
          autoComplete="off"
          className={`${styles.input} ${styles.number}`}
        />
      )}
    </Field>
  );
}
