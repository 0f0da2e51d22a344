'use client';

import { usePathname } from 'next/navigation';
import { useEffect, useRef, useSyncExternalStore } from 'react';
import { Button } from '@/components/ui/button';
import { currentAnnouncement, dismissAnnouncement, subscribeToAnnouncements } from './announcement-store';
import styles from './announcements.module.css';

/** What was saved says so itself; the others need their word. */
const WORDS = { good: '', plain: 'Note. ', caution: 'Caution. ' } as const;
const nothingYet = () => undefined;

/**
 * The one status line of the lab: what was just saved is said here, once. It comes along to the page that follows a save
 * and goes when that page is left, or when it is put away.
 */
export function Announcements() {
  const announcement = useSyncExternalStore(subscribeToAnnouncements, currentAnnouncement, nothingYet);
  const pathname = usePathname();
  const shown = useRef<{ readonly number: number; readonly pathname: string | null }>(undefined);
  useEffect(() => {
    const current = currentAnnouncement();
    if (!current) return;
    if (shown.current?.number !== current.number) shown.current = { number: current.number, pathname };
    else if (shown.current.pathname !== pathname) dismissAnnouncement();
  }, [pathname]);
  return (
    <section className={styles.region} aria-label="What was just done">
      <div role="status">
        {announcement ? (
          <p key={announcement.number} className={`${styles.strip} ${styles[announcement.kind]}`}>
            <strong>{WORDS[announcement.kind]}</strong>
            {announcement.text}
          </p>
        ) : null}
      </div>
      {announcement ? (
        <Button weight="quiet" onClick={dismissAnnouncement}>
          Put away
        </Button>
      ) : null}
    </section>
  );
}
