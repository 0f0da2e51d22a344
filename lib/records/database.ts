import 'server-only';
import { PrismaPg } from '@prisma/adapter-pg';
import { environment } from '../runtime/environment';
import { Prisma, PrismaClient } from './generated/client';

/** A client bound to one open transaction. */
export type Transaction = Prisma.TransactionClient;

/** Never exported from this room: `record` and `keep` are the doors for writing. */
let client: PrismaClient | undefined;

/** The connection string with the session's time zone fixed to UTC: otherwise instants are stored shifted. */
function inUtc(url: string): string {
  const parsed = new URL(url);
  const options = parsed.searchParams.get('options') ?? '';
  if (!options.includes('TimeZone=')) parsed.searchParams.set('options', `${options} -c TimeZone=UTC`.trim());
  // The server splits options at blanks and does not know "+" for one; a "+" elsewhere, as in a password, stays.
  parsed.search = parsed.search.replaceAll('+', '%20');
  return parsed.toString();
}

export function database(): PrismaClient {
  client ??= new PrismaClient({
    adapter: new PrismaPg({
      connectionString: inUtc(environment().DATABASE_URL),
      max: 10,
      connectionTimeoutMillis: 5_000,
      idleTimeoutMillis: 30_000,
      statement_timeout: 60_000,
      lock_timeout: 10_000,
      idle_in_transaction_session_timeout: 30_000,
    }),
  });
  return client;
}

/** Closes the pool: for programs that end. */
export async function closeDatabase(): Promise<void> {
  await client?.$disconnect();
  client = undefined;
}

export { Prisma };
