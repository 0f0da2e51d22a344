import Link from 'next/link';
import type { ReactNode } from 'react';
import styles from './count-link.module.css';

interface CountLinkProps {
  readonly href: string;
  readonly children: ReactNode;
  /** What opens, for people who do not see the table around the number: 'cases followed past blanking'. */
  readonly opens?: string;
}

/** A number (or code) with a dotted underline: it opens exactly the cases behind it. */
export function CountLink({ href, children, opens }: CountLinkProps) {
  return (
    <Link className={styles.count} href={href} prefetch={false}>
      {children}
      {opens ? <span className="visually-hidden">, opens {opens}</span> : null}
    </Link>
  );
}
