import 'server-only';
import { createHash } from 'node:crypto';
import { addFailure, clearFailures, readFailures } from '@/lib/records/users/sign-in-counters';

/** Tries that are evaluated per name within the window; more are refused unread. */
const MOST_FAILURES = 100;
const WINDOW_MINUTES = 24 * 60;

/** The counter of a name: its hash, so that a mistyped password in the name field is not stored. */
const bucketOf = (signInName: string) => createHash('sha256').update(`name:${signInName}`).digest('hex');

export async function mayTry(signInName: string): Promise<boolean> {
  return (await readFailures(bucketOf(signInName), WINDOW_MINUTES)) < MOST_FAILURES;
}

export async function noteFailure(signInName: string): Promise<void> {
  await addFailure(bucketOf(signInName), WINDOW_MINUTES);
}

export async function noteSuccess(signInName: string): Promise<void> {
  await clearFailures(bucketOf(signInName));
}
