'use client';

import { type ReactNode, useEffect, useId, useRef } from 'react';
import { Button } from './button';
import styles from './dialog.module.css';

interface DialogProps {
  readonly open: boolean;
  /** Called on Escape, on Close and when the browser closes it. */
  readonly onClose: () => void;
  readonly title: string;
  readonly children: ReactNode;
  /** Buttons before Close. */
  readonly actions?: ReactNode;
  /** The word on the closing button. */
  readonly closeLabel?: string;
}

/** The browser's own modal dialog: it keeps the focus, gives it back, and closes on Escape. */
export function Dialog({ open, onClose, title, children, actions, closeLabel = 'Close' }: DialogProps) {
  const element = useRef<HTMLDialogElement>(null);
  const titleId = useId();
  useEffect(() => {
    const dialog = element.current;
    if (!dialog) return;
    if (open && !dialog.open) dialog.showModal();
    if (!open && dialog.open) dialog.close();
  }, [open]);
  return (
    <dialog ref={element} className={styles.dialog} aria-labelledby={titleId} onClose={onClose}>
      <h2 id={titleId}>{title}</h2>
      <div className={styles.body}>{children}</div>
      <div className={styles.actions}>
        {actions}
        <Button onClick={onClose}>{closeLabel}</Button>
      </div>
    </dialog>
  );
}
