import styles from './waiting.module.css';

const LINES = ['a', 'b', 'c', 'd'];

/** What stands where something is still being read: says what, keeps the room with empty lines, does not move. */
export function Waiting({ children }: { children: string }) {
  return (
    <div className={styles.waiting}>
      <p role="status">{children}</p>
      <div aria-hidden="true">
        {LINES.map((line) => (
          <div key={line} className={styles.line} />
        ))}
      </div>
    </div>
  );
}
