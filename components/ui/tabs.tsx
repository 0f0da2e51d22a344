import Link from 'next/link';
import type { ReactNode } from 'react';
import styles from './tabs.module.css';

export interface Tab {
  readonly href: string;
  readonly label: string;
  /** Quiet count behind the label. */
  readonly count?: string | number;
  readonly current?: boolean;
}

/** The parts of one case as links: each has its own address, the one shown is marked by a rule and in bold. */
export function Tabs({ label, tabs, actions }: { label: string; tabs: readonly Tab[]; actions?: ReactNode }) {
  return (
    <div className={styles.bar}>
      <nav aria-label={label} className={styles.nav}>
        {tabs.map((tab) => (
          <Link
            key={tab.href}
            href={tab.href}
            prefetch={false}
            className={styles.tab}
            aria-current={tab.current ? 'page' : undefined}
          >
            {tab.label}
            {tab.count === undefined ? null : <span className={styles.count}> {tab.count}</span>}
          </Link>
        ))}
      </nav>
      {actions ? <div className={styles.actions}>{actions}</div> : null}
    </div>
  );
}
