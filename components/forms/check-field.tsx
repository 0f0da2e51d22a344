'use client';

import type { FieldPath, FieldValues } from 'react-hook-form';
import { describedBy, FieldFindings, type FieldTexts } from './field';
import styles from './field.module.css';
import { useField } from './use-field';

interface CheckFieldProps<Values extends FieldValues> extends Pick<FieldTexts, 'label' | 'hint'> {
  readonly name: FieldPath<Values>;
}

/** A statement that is true when ticked. The form's value is a boolean. */
export function CheckField<Values extends FieldValues = FieldValues>({
  name,
  label,
  hint,
}: CheckFieldProps<Values>) {
  const { id, error, warning, registration, isInitiallyTicked } = useField(name);
  return (
    <div className={styles.field} data-field={name} data-label={label}>
      <label className={styles.option} htmlFor={id}>
        <input
          type="checkbox"
          {...registration}
          defaultChecked={isInitiallyTicked}
          id={id}
          aria-describedby={describedBy(id, { hint, error, warning })}
          aria-invalid={error ? true : undefined}
        />
        {label}
      </label>
      <FieldFindings id={id} error={error} warning={warning} />
      {hint ? (
        <p id={`${id}-hint`} className={styles.hint}>
          {hint}
        </p>
      ) : null}
    </div>
  );
}
