import type { ReactNode } from 'react';
import styles from './definition-list.module.css';

export interface Definition {
  readonly term: string;
  readonly detail: ReactNode;
}

/** Terms and what is recorded for them. What is missing is said ('not recorded'), never left blank. */
export function DefinitionList({ items }: { items: readonly Definition[] }) {
  return (
    <dl className={styles.list}>
      {items.map((item) => (
        <div key={item.term} className={styles.row}>
          <dt>{item.term}</dt>
          <dd>{item.detail}</dd>
        </div>
      ))}
    </dl>
  );
}
