import { LinkButton } from './button';
import styles from './pager.module.css';

interface PagerProps {
  /** First and last row shown, counted from 1, and how many there are. */
  readonly from: number;
  readonly to: number;
  readonly total: number;
  /** What is counted, in the plural: 'cases'. */
  readonly noun: string;
  readonly previousHref?: string | undefined;
  readonly nextHref?: string | undefined;
}

/** Which rows are shown out of how many, and links to the others. */
export function Pager({ from, to, total, noun, previousHref, nextHref }: PagerProps) {
  const number = (value: number) => value.toLocaleString('en-GB');
  return (
    <nav className={styles.pager} aria-label={`Pages of ${noun}`}>
      <span>
        {total === 0 ? `No ${noun}` : `${number(from)} to ${number(to)} of ${number(total)} ${noun}`}
      </span>
      {previousHref ? <LinkButton href={previousHref}>Earlier page</LinkButton> : null}
      {nextHref ? <LinkButton href={nextHref}>Next page</LinkButton> : null}
    </nav>
  );
}
