import type { ReactNode } from 'react';
import styles from './notice.module.css';

type NoticeKind = 'plain' | 'caution' | 'harm' | 'good';

const WORDS: Record<NoticeKind, string> = {
  plain: 'Note',
  caution: 'Caution',
  harm: 'Problem',
  good: 'Done',
};

interface NoticeProps {
  readonly kind: NoticeKind;
  /** Replaces the word of the kind; the kind is always said in words, never by colour alone. */
  readonly title?: string;
  readonly children?: ReactNode;
  /** 'status' or 'alert' when it appears while the person is at work; left out when it is there from the start. */
  readonly live?: 'status' | 'alert';
}

/** A few words that must be seen: a thick rule, a word for its kind, and what to do. */
export function Notice({ kind, title, children, live }: NoticeProps) {
  return (
    <div className={`${styles.notice} ${styles[kind]}`} role={live}>
      <strong className={styles.word}>{title ?? WORDS[kind]}</strong>
      {children ? <div className={styles.body}>{children}</div> : null}
    </div>
  );
}
