'use client';

import { useSyncExternalStore } from 'react';
import { Button } from '@/components/ui/button';
import { currentAnnouncement, dismissAnnouncement, subscribeToAnnouncements } from './announcement-store';
import styles from './announcements.module.css';

const WORDS = { good: 'Saved', plain: 'Note', caution: 'Caution' } as const;
const nothingYet = () => undefined;

/** The one status line of the lab: what was just saved is said here, once, and stays until it is put away. */
export function Announcements() {
  const announcement = useSyncExternalStore(subscribeToAnnouncements, currentAnnouncement, nothingYet);
  return (
    <div className={styles.region}>
      <div role="status">
        {announcement ? (
          <p key={announcement.number} className={`${styles.strip} ${styles[announcement.kind]}`}>
            <strong>{WORDS[announcement.kind]}.</strong> {announcement.text}
          </p>
        ) : null}
      </div>
      {announcement ? (
        <Button weight="quiet" onClick={dismissAnnouncement}>
          Put away
        </Button>
      ) : null}
    </div>
  );
}
