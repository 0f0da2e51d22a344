'use client';

import type { FieldPath, FieldValues } from 'react-hook-form';
import { get, useFormContext, useFormState } from 'react-hook-form';
import { describedBy, FieldFindings, type FieldTexts } from './field';
import styles from './field.module.css';
import type { Choice } from './select-field';
import { useField } from './use-field';

interface ChecksFieldProps<Values extends FieldValues> extends Pick<FieldTexts, 'label' | 'hint'> {
  readonly name: FieldPath<Values>;
  readonly groups: readonly { readonly label: string; readonly choices: readonly Choice[] }[];
}

/** Any number of a list, in groups. The form's value is the list of chosen codes. */
export function ChecksField<Values extends FieldValues = FieldValues>(props: ChecksFieldProps<Values>) {
  const { name, label, hint, groups } = props;
  const { id, error, warning, registration } = useField(name);
  const { control } = useFormContext();
  const { defaultValues } = useFormState({ control, name });
  const initial: unknown = get(defaultValues, name);
  const isChosen = (code: string) => Array.isArray(initial) && initial.includes(code);
  return (
    <fieldset
      id={id}
      className={`${styles.field} ${styles.choices}`}
      aria-describedby={describedBy(id, { hint, error, warning })}
      data-field={name}
      data-label={label}
    >
      <legend className={styles.legend}>{label}</legend>
      {groups.map((group) => (
        <fieldset key={group.label} className={styles.group}>
          <legend className={styles.groupLabel}>{group.label}</legend>
          <div className={styles.options}>
            {group.choices.map((choice) => (
              <label key={choice.code} className={styles.option} title={choice.definition}>
                <input
                  type="checkbox"
                  {...registration}
                  value={choice.code}
                  defaultChecked={isChosen(choice.code)}
                />
                {choice.label}
              </label>
            ))}
          </div>
        </fieldset>
      ))}
      <FieldFindings id={id} error={error} warning={warning} />
      {hint ? (
        <p id={`${id}-hint`} className={styles.hint}>
          {hint}
        </p>
      ) : null}
    </fieldset>
  );
}
