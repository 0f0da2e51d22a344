'use client';

import type { ReactNode } from 'react';
import { FieldFindings } from './field';
import styles from './field-group.module.css';
import { useFieldFindings } from './use-field';

interface FieldGroupProps {
  readonly legend: string;
  /** What belongs at the right of the legend, for example a button 'Remove recording 2'. */
  readonly actions?: ReactNode;
  readonly hint?: ReactNode;
  readonly children: ReactNode;
}

/** Fields that are read together. A group within a group repeats (Recording 2): the
 * summary of findings puts its legend first. */
export function FieldGroup({ legend, actions, hint, children }: FieldGroupProps) {
  return (
    <fieldset className={styles.group} data-group={legend}>
      <legend className={styles.legend}>{legend}</legend>
      {actions ? <div className={styles.actions}>{actions}</div> : null}
      {hint ? <p className={styles.hint}>{hint}</p> : null}
      {children}
    </fieldset>
  );
}

/** Fields side by side as long as there is room. */
export function FieldRow({ children }: { children: ReactNode }) {
  return <div className={styles.row}>{children}</div>;
}

/** Findings about a list as a whole ('at most 20 recordings'): put it where the list ends. */
export function ListFindings({ name, label }: { name: string; label: string }) {
  const { id, error, warning } = useFieldFindings(name);
  return (
    <div id={id} tabIndex={-1} data-field={name} data-label={label}>
      <FieldFindings id={id} error={error} warning={warning} />
    </div>
  );
}
