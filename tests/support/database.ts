import { randomBytes } from 'node:crypto';
import { setTimeout as wait } from 'node:timers/promises';
import { inject } from 'vitest';
import { withClient } from '../../lib/launch/database-client.mjs';
import type { TestDatabaseServer } from './database-server';

/** A database of one test file: migrated, empty, with the same two roles as in operation. */
export interface TestDatabase {
  /** The role that owns the tables: for looking behind the app's back. */
  ownerUrl: string;
  /** The app's role; process.env.DATABASE_URL holds it until `close`. */
  appUrl: string;
  /** Drops the database; close the clients that still use it first, else it stays until the run ends. */
  close: () => Promise<void>;
}

const COPY_ATTEMPTS = 20;

/**
 * Copies the template into a database of its own and points the app's environment at it. Call it before
 * `lib/records` is imported (import it dynamically afterwards), because the app reads its environment once.
 */
export async function openTestDatabase(
  server: TestDatabaseServer = inject('databaseServer'),
): Promise<TestDatabase> {
  const name = `test_${process.pid}_${randomBytes(6).toString('hex')}`;
  await withClient(server.adminUrl, async (client) => {
    const database = client.escapeIdentifier(name);
    const [owner, app] = [server.ownerUrl, server.appUrl].map((url) =>
      client.escapeIdentifier(new URL(url).username),
    );
    await withRetry(() =>
      client.query(
        `CREATE DATABASE ${database} TEMPLATE ${client.escapeIdentifier(server.template)} OWNER ${owner}`,
      ),
    );
    // Rights on the database itself are not copied from a template.
    await client.query(`REVOKE ALL ON DATABASE ${database} FROM PUBLIC`);
    await client.query(`GRANT CONNECT ON DATABASE ${database} TO ${app}`);
  });
  const appUrl = renamed(server.appUrl, name);
  const restore = setEnvironment({
    DATABASE_URL: appUrl,
    NEXTAUTH_SECRET: randomBytes(32).toString('base64'),
    NEXTAUTH_URL: 'http://localhost:3000',
    AFTERBEAT_MASTER_KEY: randomBytes(32).toString('base64'),
    AFTERBEAT_IDENTITY_KEY: randomBytes(32).toString('base64'),
  });
  return {
    ownerUrl: renamed(server.ownerUrl, name),
    appUrl,
    async close() {
      restore();
      await withClient(server.adminUrl, async (client) => {
        const { rows } = await client.query('SELECT 1 FROM pg_stat_activity WHERE datname = $1', [name]);
        // Idle clients of a pool would meet a cut connection; the server goes away at the end of the run anyway.
        if (rows.length === 0) await client.query(`DROP DATABASE IF EXISTS ${client.escapeIdentifier(name)}`);
      });
    },
  };
}

function renamed(url: string, database: string): string {
  const copy = new URL(url);
  copy.pathname = `/${database}`;
  return copy.toString();
}

/** Sets variables and answers how to put the former ones back. */
function setEnvironment(values: Record<string, string>): () => void {
  const former = new Map(Object.keys(values).map((name) => [name, process.env[name]]));
  Object.assign(process.env, values);
  return () => {
    for (const [name, value] of former) {
      if (value === undefined) delete process.env[name];
      else process.env[name] = value;
    }
  };
}

/** Two files may copy at the same moment; PostgreSQL then refuses the second for an instant. */
async function withRetry(copy: () => Promise<unknown>): Promise<void> {
  for (let attempt = 1; ; attempt += 1) {
    try {
      await copy();
      return;
    } catch (error) {
      const isBusy = error instanceof Error && 'code' in error && error.code === '55006';
      if (!isBusy || attempt === COPY_ATTEMPTS) throw error;
      await wait(50 * attempt);
    }
  }
}
