'use client';

import { type FieldPath, type FieldValues, useFormContext, useWatch } from 'react-hook-form';
import { Button } from '@/components/ui/button';
import { spellDay, tidyDay } from './day-text';
import { Field, type FieldTexts } from './field';
import styles from './field.module.css';
import { useField } from './use-field';

interface DayFieldProps<Values extends FieldValues> extends Omit<FieldTexts, 'unit'> {
  readonly name: FieldPath<Values>;
  /** The lab's today as YYYY-MM-DD: shows a button that fills it in. */
  readonly today?: string | undefined;
}

/** A day typed as YYYY-MM-DD and read back in words. No picker whose order of day and month depends on the machine. */
export function DayField<Values extends FieldValues = FieldValues>(props: DayFieldProps<Values>) {
  const { name, hint, today, ...texts } = props;
  const { setValue, control: formControl } = useFormContext<FieldValues>();
  const value: unknown = useWatch({ control: formControl, name });
  const fill = (day: string) =>
    setValue<string>(name, day, { shouldDirty: true, shouldTouch: true, shouldValidate: true });
  const { id, error, warning, registration, initialText } = useField(name);
  const spelled = typeof value === 'string' ? spellDay(value) : '';
  const format = spelled || 'YYYY-MM-DD, for example 2026-05-14';
  return (
    <Field
      {...texts}
      id={id}
      name={name}
      error={error}
      warning={warning}
      hint={
        hint ? (
          <>
            {format}. {hint}
          </>
        ) : (
          format
        )
      }
    >
      {(control) => (
        <>
          <input
            {...registration}
            {...control}
            defaultValue={initialText}
            type="text"
            autoComplete="off"
            spellCheck={false}
            maxLength={20}
            className={`${styles.input} ${styles.day}`}
            onBlur={async (event) => {
              const tidied = tidyDay(event.target.value);
              if (tidied !== event.target.value) fill(tidied);
              await registration.onBlur(event);
            }}
          />
          {today ? (
            <Button weight="quiet" onClick={() => fill(today)}>
              Today<span className="visually-hidden"> as {texts.label}</span>
            </Button>
          ) : null}
        </>
      )}
    </Field>
  );
}
