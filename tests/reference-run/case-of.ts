import type { FirstSignal } from '@/lib/statistics';

/** The number of the case that signalled, or null as the cases write "none". */
export const caseOf = (signal: FirstSignal): number | null =>
  signal.kind === 'signal' ? signal.atCase : null;
