/** The instant now. One place, so that a test can move it. */
export interface Clock {
  now(): Date;
}

let current: Clock = { now: () => new Date() };

/** Now as an instant; UTC wherever it is written. */
export function now(): Date {
  return current.now();
}

/** Today's day in UTC as 'YYYY-MM-DD'. */
export function todayText(): string {
  return current.now().toISOString().slice(0, 10);
}

/** Puts another clock in place and gives back what restores the one before. */
export function useClock(clock: Clock): () => void {
  const before = current;
  current = clock;
  return () => {
    current = before;
  };
}
