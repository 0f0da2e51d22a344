import type { ReactNode } from 'react';
import styles from './field.module.css';

/** What the control inside a field must carry, so that its hint and its error are read with it. */
interface ControlProps {
  readonly id: string;
  readonly 'aria-describedby': string | undefined;
  readonly 'aria-invalid': true | undefined;
  readonly 'aria-required': true | undefined;
}

/** What every kind of field takes. */
export interface FieldTexts {
  readonly label: string;
  /** One short sentence: how to write it, or what it means. */
  readonly hint?: ReactNode;
  /** Unit behind the control, for example 'mm'. */
  readonly unit?: string | undefined;
  /** Says 'needed' beside the label. */
  readonly required?: boolean | undefined;
}

interface FieldProps extends FieldTexts {
  readonly id: string;
  /** Path in the form: the summary of findings finds the field by it. */
  readonly name: string;
  readonly error?: string | undefined;
  readonly warning?: string | undefined;
  readonly children: (control: ControlProps) => ReactNode;
}

/** Ids of the texts around a control, in the order they are read. */
export function describedBy(id: string, texts: Pick<FieldProps, 'hint' | 'unit' | 'error' | 'warning'>) {
  const ids = [
    texts.error ? `${id}-error` : '',
    texts.warning ? `${id}-warning` : '',
    texts.unit ? `${id}-unit` : '',
    texts.hint ? `${id}-hint` : '',
  ].filter(Boolean);
  return ids.length > 0 ? ids.join(' ') : undefined;
}

/** Error and caution of one field, in words; a caution says first that it is only one. */
export function FieldFindings({
  id,
  error,
  warning,
}: {
  id: string;
  error?: string | undefined;
  warning?: string | undefined;
}) {
  return (
    <>
      {error ? (
        <p id={`${id}-error`} className={styles.error}>
          {error}
        </p>
      ) : null}
      {warning ? (
        <p id={`${id}-warning`} className={styles.warning}>
          <strong>Please check:</strong> {warning}
        </p>
      ) : null}
    </>
  );
}

/** A label, a control, its unit and hint, and beside it what has to be mended. */
export function Field({ id, name, label, hint, unit, required, error, warning, children }: FieldProps) {
  return (
    <div className={styles.field} data-field={name} data-label={label} data-invalid={error ? '' : undefined}>
      <label htmlFor={id} className={styles.label}>
        {label}
        {required ? <span className={styles.needed}> needed</span> : null}
      </label>
      <div className={styles.control}>
        {children({
          id,
          'aria-describedby': describedBy(id, { hint, unit, error, warning }),
          'aria-invalid': error ? true : undefined,
          'aria-required': required ? true : undefined,
        })}
        {unit ? (
          <span id={`${id}-unit`} className={styles.unit}>
            {unit}
          </span>
        ) : null}
      </div>
      <FieldFindings id={id} error={error} warning={warning} />
      {hint ? (
        <p id={`${id}-hint`} className={styles.hint}>
          {hint}
        </p>
      ) : null}
    </div>
  );
}
