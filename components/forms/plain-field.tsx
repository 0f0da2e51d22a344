import type { InputHTMLAttributes } from 'react';
import { Field, type FieldTexts } from './field';
import styles from './field.module.css';
import type { Choice } from './select-field';

interface PlainFieldProps extends FieldTexts {
  readonly name: string;
  readonly id?: string;
  readonly error?: string | undefined;
}

type InputProps = Pick<
  InputHTMLAttributes<HTMLInputElement>,
  'type' | 'defaultValue' | 'autoComplete' | 'inputMode' | 'maxLength' | 'autoFocus'
>;

/** A text field of a plain form (filters in the address, sign-in): no client code, the browser sends it. */
export function PlainTextField({
  name,
  id = name,
  error,
  label,
  hint,
  unit,
  required,
  ...input
}: PlainFieldProps & InputProps) {
  return (
    <Field id={id} name={name} label={label} hint={hint} unit={unit} required={required} error={error}>
      {(control) => <input type="text" {...input} {...control} name={name} className={styles.input} />}
    </Field>
  );
}

interface PlainSelectFieldProps extends PlainFieldProps {
  readonly choices: readonly Choice[];
  readonly defaultValue?: string | undefined;
  /** Words of the empty choice, for example 'any'. */
  readonly emptyLabel: string;
}

/** A list of a plain form: for filters in the address. */
export function PlainSelectField(props: PlainSelectFieldProps) {
  const { name, id = name, choices, defaultValue = '', emptyLabel, error, ...texts } = props;
  return (
    <Field {...texts} id={id} name={name} error={error}>
      {(control) => (
        <select {...control} name={name} defaultValue={defaultValue} className={styles.input}>
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
