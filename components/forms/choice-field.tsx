'use client';

import type { FieldPath, FieldValues } from 'react-hook-form';
import { describedBy, FieldFindings, type FieldTexts } from './field';
import styles from './field.module.css';
import type { Choice } from './select-field';
import { useField } from './use-field';

interface ChoiceFieldProps<Values extends FieldValues> extends Omit<FieldTexts, 'unit'> {
  readonly name: FieldPath<Values>;
  readonly choices: readonly Choice[];
  /** Words of a last choice that means 'nothing recorded'; left out where one must be chosen. */
  readonly emptyLabel?: string;
}

/** One of a few, all in sight in a row: one key press instead of an opened list. */
export function ChoiceField<Values extends FieldValues = FieldValues>(props: ChoiceFieldProps<Values>) {
  const { name, label, hint, required, choices, emptyLabel } = props;
  const { id, error, warning, registration, initialText } = useField(name);
  const shown = emptyLabel === undefined ? choices : [...choices, { code: '', label: emptyLabel }];
  return (
    <fieldset
      id={id}
      className={`${styles.field} ${styles.choices}`}
      aria-describedby={describedBy(id, { hint, error, warning })}
      data-field={name}
      data-label={label}
    >
      <legend className={styles.legend}>
        {label}
        {required ? <span className={styles.needed}> needed</span> : null}
      </legend>
      <div className={styles.options} data-invalid={error ? '' : undefined}>
        {shown.map((choice) => (
          <label key={choice.code} className={styles.option} title={choice.definition}>
            <input
              type="radio"
              {...registration}
              value={choice.code}
              defaultChecked={initialText === choice.code}
              aria-invalid={error ? true : undefined}
            />
            {choice.label}
          </label>
        ))}
      </div>
      <FieldFindings id={id} error={error} warning={warning} />
      {hint ? (
        <p id={`${id}-hint`} className={styles.hint}>
          {hint}
        </p>
      ) : null}
    </fieldset>
  );
}
