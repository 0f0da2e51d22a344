import Link from 'next/link';
import type { ReactNode } from 'react';
import { Announcements } from './announcements';
import { CAUTION_SHORT } from './caution';
import type { NavigationItem } from './navigation';
import { NavigationLinks } from './navigation-links';
import styles from './shell.module.css';
import { SignOutButton } from './sign-out-button';
import type { Theme } from './theme';
import { ThemeSwitch } from './theme-switch';

export interface ShellProps {
  /** Entries that this person may open: `navigationFor(permissions)`. */
  readonly items: readonly NavigationItem[];
  readonly counts?: Readonly<Record<string, string>>;
  /** Who is signed in: the role's label and the person's code. */
  readonly who: { readonly role: string; readonly code: string };
  readonly demo: boolean;
  readonly theme: Theme;
  readonly chooseTheme: (theme: Theme) => Promise<void>;
  readonly children: ReactNode;
}

/** The frame of every page behind the sign-in: rooms at the left (above on tablets), the page, the caution under it. */
export function Shell({ items, counts = {}, who, demo, theme, chooseTheme, children }: ShellProps) {
  return (
    <div className={styles.frame}>
      <a className={styles.skip} href="#content">
        Skip to the page
      </a>
      <header className={styles.side}>
        <Link href="/today" className={styles.mark} prefetch={false}>
          Afterbeat
        </Link>
        <nav aria-label="Main" className={styles.nav}>
          <NavigationLinks items={items} counts={counts} />
        </nav>
        <div className={styles.who}>
          <div>
            {who.role} · <span className={styles.code}>{who.code}</span>
          </div>
          <SignOutButton />
          <ThemeSwitch initial={theme} choose={chooseTheme} />
        </div>
      </header>
      <div className={styles.page}>
        {demo ? (
          <aside className={styles.demo} aria-label="Demo lab">
            <strong>Demo lab, invented data.</strong> Nobody in it exists; do not enter a real patient here.
          </aside>
        ) : null}
        <Announcements />
        <main id="content" tabIndex={-1} className={styles.main}>
          {children}
        </main>
        <footer className={styles.foot}>{CAUTION_SHORT}</footer>
      </div>
    </div>
  );
}
