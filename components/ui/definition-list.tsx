import type { ReactNode } from 'react';
import styles from './definition-list.module.css';

interface Definition {
  readonly term: string;
  readonly detail: ReactNode;
}

interface DefinitionListProps {
  readonly items: readonly Definition[];
  /** Numbers at the right edge instead of words beside their terms: for counts in the margin. */
  readonly counts?: boolean;
}

/** Terms and what is recorded for them. What is missing is said ('not recorded'), never left blank. */
export function DefinitionList({ items, counts = false }: DefinitionListProps) {
  return (
    <dl className={`${styles.list} ${counts ? styles.counts : ''}`}>
      {items.map((item) => (
        <div key={item.term} className={styles.row}>
          <dt>{item.term}</dt>
          <dd>{item.detail}</dd>
        </div>
      ))}
    </dl>
  );
}
