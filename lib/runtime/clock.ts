/** The instant now. One place, so that a test can move it. */
export interface Clock {
  now(): Date;
}

let current: Clock = { now: () => new Date() };

/** Now as an instant; UTC wherever it is written. */
export function now(): Date {
  return current.now();
}

/**
 * Today's day as 'YYYY-MM-DD' where the lab is: AFTERBEAT_TIME_ZONE (an IANA name), else the zone of the machine. A morning
 * in Auckland is not the day before just because it still is in UTC.
 */
export function todayText(): string {
  const timeZone = process.env.AFTERBEAT_TIME_ZONE || undefined;
  const parts = new Intl.DateTimeFormat('en-GB', {
    timeZone,
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
  });
  const of = new Map(parts.formatToParts(current.now()).map((part) => [part.type, part.value]));
  return `${of.get('year')}-${of.get('month')}-${of.get('day')}`;
}

/** Puts another clock in place and gives back what restores the one before. */
export function useClock(clock: Clock): () => void {
  const before = current;
  current = clock;
  return () => {
    current = before;
  };
}
