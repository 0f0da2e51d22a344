'use client';

import type { FieldPath, FieldValues } from 'react-hook-form';
import { Field, type FieldTexts } from './field';
import styles from './field.module.css';
import { useField } from './use-field';

/** One choice: the code that is stored and the words that are read. A registry `Term` is one. */
export interface Choice {
  readonly code: string;
  readonly label: string;
  readonly definition?: string;
}

interface SelectFieldProps<Values extends FieldValues> extends FieldTexts {
  readonly name: FieldPath<Values>;
  readonly choices: readonly Choice[];
  /** Words of the first, empty choice. */
  readonly emptyLabel?: string;
}

/** One of a list. The empty choice stands first and means that nothing was recorded. */
export function SelectField<Values extends FieldValues = FieldValues>(props: SelectFieldProps<Values>) {
  const { name, choices, emptyLabel = 'not recorded', ...texts } = props;
  const { id, error, warning, registration, initialText } = useField(name);
  return (
    <Field {...texts} id={id} name={name} error={error} warning={warning}>
      {(control) => (
        <select {...registration} {...control} defaultValue={initialText} className={styles.input}>
          <option value="">{emptyLabel}</option>
          {choices.map((choice) => (
            <option key={choice.code} value={choice.code}>
              {choice.label}
            </option>
          ))}
        </select>
      )}
    </Field>
  );
}
