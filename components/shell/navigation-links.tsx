'use client';

import Link from 'next/link';
import { usePathname } from 'next/navigation';
import { isWithin, type NavigationItem } from './navigation';
import styles from './shell.module.css';

interface NavigationLinksProps {
  readonly items: readonly NavigationItem[];
  /** By href: what stands behind the word, for example { '/today': '17' }. */
  readonly counts: Readonly<Record<string, string>>;
}

/** The rooms as links; the one that is open is marked for eye and ear. */
export function NavigationLinks({ items, counts }: NavigationLinksProps) {
  const pathname = usePathname() ?? '';
  return (
    <ul className={styles.links}>
      {items.map((item) => (
        <li key={item.href}>
          <Link
            href={item.href}
            prefetch={false}
            className={styles.link}
            aria-current={isWithin(pathname, item.href) ? 'page' : undefined}
          >
            {item.label}
            {counts[item.href] ? <span className={styles.count}>{counts[item.href]}</span> : null}
          </Link>
        </li>
      ))}
    </ul>
  );
}
