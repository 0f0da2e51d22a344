import type { ReactNode } from 'react';
import styles from './spread.module.css';

/** An open ledger: the figure or table on the large side, notes in the margin; one column on narrow screens. */
export function Spread({ children, margin }: { children: ReactNode; margin: ReactNode }) {
  return (
    <div className={styles.spread}>
      <div className={styles.main}>{children}</div>
      <aside className={styles.margin} aria-label="Margin notes">
        {margin}
      </aside>
    </div>
  );
}

/** One note in the margin: who is behind the number, how well they were watched, what not to conclude. */
export function MarginNote({ title, children }: { title: ReactNode; children: ReactNode }) {
  return (
    <section className={styles.note}>
      <h2 className={styles.noteTitle}>{title}</h2>
      {children}
    </section>
  );
}
