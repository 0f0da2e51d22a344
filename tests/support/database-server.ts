import { chmodSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { TestProject } from 'vitest/node';
import { withClient } from '../../lib/launch/database-client.mjs';
import { openDatabase } from '../../lib/launch/embedded-database.mjs';
import { grantRights } from '../../lib/launch/grants.mjs';
import { migrate } from '../../lib/launch/migrate.mjs';

/** One server for a whole test run, and a migrated database on it that every test file copies. */
export interface TestDatabaseServer {
  adminUrl: string;
  ownerUrl: string;
  appUrl: string;
  template: string;
}

declare module 'vitest' {
  export interface ProvidedContext {
    databaseServer: TestDatabaseServer;
  }
}

/**
 * Starts an embedded server in a temporary folder and migrates its database, which then serves as the template.
 * Vitest calls the default export once; a browser run may call this function itself.
 */
export async function startTestDatabaseServer(): Promise<{
  server: TestDatabaseServer;
  stop: () => Promise<void>;
}> {
  const dataDir = mkdtempSync(path.join(tmpdir(), 'afterbeat-test-'));
  // As root, the account that runs PostgreSQL has to pass through.
  chmodSync(dataDir, 0o711);
  const database = await openDatabase({ dataDir });
  const stop = async () => {
    await database.release();
    rmSync(dataDir, { recursive: true, force: true });
  };
  try {
    await migrate({
      ownerUrl: database.ownerUrl,
      afterwards: (client) => grantRights(client, new URL(database.appUrl).username),
    });
    const template = new URL(database.ownerUrl).pathname.slice(1);
    // Nobody may be connected to a template while it is copied.
    await withClient(database.adminUrl, (client) =>
      client.query(`ALTER DATABASE ${client.escapeIdentifier(template)} ALLOW_CONNECTIONS false`),
    );
    const { adminUrl, ownerUrl, appUrl } = database;
    return { server: { adminUrl, ownerUrl, appUrl, template }, stop };
  } catch (error) {
    await stop();
    throw error;
  }
}

export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const { server, stop } = await startTestDatabaseServer();
  project.provide('databaseServer', server);
  return stop;
}
