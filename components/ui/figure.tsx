import type { ReactNode } from 'react';
import styles from './figure.module.css';

interface FigureProps {
  readonly title: string;
  /** Method, limits, endpoint and data of the drawing: printed under it. */
  readonly caption: ReactNode;
  /** Links behind the caption: table, SVG, CSV. */
  readonly actions?: ReactNode;
  readonly children: ReactNode;
}

/** A figure is larger than its frame: a heading, the drawing, and under it what it may be read as. */
export function Figure({ title, caption, actions, children }: FigureProps) {
  return (
    <figure className={styles.figure}>
      <h2>{title}</h2>
      <div className={styles.drawing}>{children}</div>
      <figcaption className={styles.caption}>
        {caption}
        {actions ? <span className={styles.actions}> {actions}</span> : null}
      </figcaption>
    </figure>
  );
}
