import 'server-only';
import { closeDatabase } from './database';

/** Closes the connections: for programs that end. */
export function closeRecords(): Promise<void> {
  return closeDatabase();
}
