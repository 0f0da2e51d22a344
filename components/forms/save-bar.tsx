import type { ReactNode } from 'react';
import { Button, LinkButton } from '@/components/ui/button';
import styles from './save-bar.module.css';

interface SaveBarProps {
  readonly label: string;
  /** False until the page's scripts have taken over: the button stays shut for this moment. */
  readonly ready: boolean;
  readonly busy: boolean;
  /** What has just happened, in a few words: read aloud when it changes. */
  readonly status: string;
  readonly cancelHref?: string | undefined;
  /** Further buttons. */
  readonly children?: ReactNode;
}

/** The bar at the foot of a form. It stays in sight; `scroll-padding` keeps it from lying over the field in focus. */
export function SaveBar({ label, ready, busy, status, cancelHref, children }: SaveBarProps) {
  return (
    <div className={styles.bar} data-save-bar="">
      <Button
        type="submit"
        weight="primary"
        busy={busy}
        disabled={!ready}
        // Leaving a field may show a finding and move everything below; the press would then miss the button.
        onMouseDown={(event) => event.preventDefault()}
      >
        {busy ? 'Saving' : label}
      </Button>
      {children}
      {cancelHref ? <LinkButton href={cancelHref}>Leave without saving</LinkButton> : null}
      <span role="status" className={styles.status}>
        {busy ? 'Saving' : status}
      </span>
    </div>
  );
}
