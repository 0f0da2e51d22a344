import type { ReactNode } from 'react';
import styles from './dead-end.module.css';

interface DeadEndProps {
  readonly title: string;
  readonly children: ReactNode;
  /** Finds the error in the log. */
  readonly reference?: string | undefined;
  readonly actions: ReactNode;
}

/** A page that cannot be shown: what happened, what to do now, and a reference for whoever looks after the lab. */
export function DeadEnd({ title, children, reference, actions }: DeadEndProps) {
  return (
    <div className={styles.end}>
      <h1>{title}</h1>
      <div className={styles.words}>{children}</div>
      {reference ? (
        <p className={styles.reference}>
          Reference for the administrator: <code>{reference}</code>
        </p>
      ) : null}
      <div className={styles.actions}>{actions}</div>
    </div>
  );
}
