import type { ReactNode } from 'react';
import { Announcements } from './announcements';
import { CAUTION_FULL } from './caution';
import styles from './lone-page.module.css';

/** A page outside the lab's frame: sign-in, first run, and what is shown when there is nothing to show. */
export function LonePage({ children }: { children: ReactNode }) {
  return (
    <div className={styles.frame}>
      <header className={styles.mark}>Afterbeat</header>
      <Announcements />
      <main className={styles.main}>{children}</main>
      <footer className={styles.foot}>{CAUTION_FULL}</footer>
    </div>
  );
}
