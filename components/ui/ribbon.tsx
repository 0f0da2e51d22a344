import type { ReactNode } from 'react';
import styles from './ribbon.module.css';

export interface RibbonItem {
  /** Quiet word before the value, for example 'Endpoint'; left out when the value reads alone ('5 overdue'). */
  readonly label?: string;
  readonly value: ReactNode;
}

/** The line under the title: which endpoint, which cohort, which counts; what may be done stands at its end. */
export function Ribbon({ items, actions }: { items: readonly RibbonItem[]; actions?: ReactNode }) {
  return (
    <div className={styles.ribbon}>
      <ul className={styles.items}>
        {items.map((item, index) => (
          <li key={item.label ?? index}>
            {item.label ? <span className={styles.label}>{item.label} </span> : null}
            <span className={item.label ? styles.value : undefined}>{item.value}</span>
          </li>
        ))}
      </ul>
      {actions ? <div className={styles.actions}>{actions}</div> : null}
    </div>
  );
}
