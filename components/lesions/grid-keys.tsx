import { lettersInWords } from './cell-choices';
import styles from './lesion-grid.module.css';

/** The keys of the table, and what was filled just now. */
export function GridKeys({ said }: { said: string }) {
  return (
    <>
      <p className={styles.keys}>
        <kbd>Enter</kbd> and the arrow keys move from cell to cell, <kbd>Tab</kbd> along the row,{' '}
        <kbd>Page down</kbd> to the next ring; <kbd>Esc</kbd> leaves the table; <kbd>F2</kbd> edits a text.
        State: {lettersInWords('state')}, <kbd>Delete</kbd> nothing. A value in “whole ring” goes to every
        segment that was not set differently. <kbd>Ctrl</kbd> <kbd>D</kbd> fills down in the ring,{' '}
        <kbd>Ctrl</kbd> <kbd>Enter</kbd> saves.
      </p>
      <p role="status" className={styles.said}>
        {said}
      </p>
    </>
  );
}
