import 'server-only';
import { logError } from '../../runtime/log';
import { database } from '../database';

/** Name of the last finished migration, or null when the database does not answer. */
export async function readSchemaVersion(): Promise<string | null> {
  try {
    const [row] = await database().$queryRaw<{ migration_name: string }[]>`
      SELECT migration_name FROM _prisma_migrations WHERE finished_at IS NOT NULL ORDER BY migration_name DESC LIMIT 1`;
    return row?.migration_name ?? null;
  } catch (error) {
    logError({ event: 'health', error: error instanceof Error ? error.name : 'unknown' });
    return null;
  }
}
