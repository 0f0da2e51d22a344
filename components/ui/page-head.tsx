import type { ReactNode } from 'react';
import styles from './page-head.module.css';

/** A page begins with a sentence: the title says what is found here, the lede for whom, when and how many. */
export function PageHead({ title, lede }: { title: ReactNode; lede?: ReactNode }) {
  return (
    <header className={styles.head}>
      <h1>{title}</h1>
      {lede ? <p className={styles.lede}>{lede}</p> : null}
    </header>
  );
}
