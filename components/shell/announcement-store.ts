export interface Announcement {
  readonly kind: 'good' | 'plain' | 'caution';
  readonly text: string;
  /** Counts up, so that the same words said twice are two announcements. */
  readonly number: number;
}

let current: Announcement | undefined;
let count = 0;
const listeners = new Set<() => void>();

function publish(next: Announcement | undefined): void {
  current = next;
  for (const listener of listeners) listener();
}

/** Says something once, in the strip above the page; it outlives a change of page within the lab. */
export function announce(text: string, kind: Announcement['kind'] = 'good'): void {
  count += 1;
  publish({ kind, text, number: count });
}

export function dismissAnnouncement(): void {
  publish(undefined);
}

export function currentAnnouncement(): Announcement | undefined {
  return current;
}

export function subscribeToAnnouncements(listener: () => void): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}
