import type { ReactNode } from 'react';
import styles from './big-number.module.css';
import { CountLink } from './count-link';

interface BigNumberProps {
  /** The number as printed, unit included, for example '57.6 %'; or the reason in words when there is none. */
  readonly value: string;
  /** The interval as printed, lower to upper, for example '55.0 to 60.1'. */
  readonly interval?: string;
  /** What the number counts, in words. */
  readonly children?: ReactNode;
  /** Opens exactly the cases behind the number. */
  readonly href?: string;
  /** What the link opens, for example 'the 1,479 cases analysed'; asked for with `href`. */
  readonly opens?: string;
}

/** A large number that is never alone: its interval and its definition stand under it. */
export function BigNumber({ value, interval, children, href, opens }: BigNumberProps) {
  return (
    <div className={styles.block}>
      <div className={styles.value}>
        {href ? (
          <CountLink href={href} opens={opens ?? 'the cases behind it'}>
            {value}
          </CountLink>
        ) : (
          value
        )}
      </div>
      {interval ? <div className={styles.quiet}>{interval}</div> : null}
      {children ? <div className={styles.quiet}>{children}</div> : null}
    </div>
  );
}
