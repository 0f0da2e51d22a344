import { createHash, randomUUID } from 'node:crypto';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { CHECKOUT } from './checkout.mjs';
import { withClient } from './database-client.mjs';
import { LaunchFailure, messageOf } from './failure.mjs';

/** Prisma's own number for the advisory lock of migrations: its command and this one exclude each other. */
const MIGRATION_LOCK = 72_707_369;
const LOCK_LIMIT_MS = 120_000;

/** Prisma's own table, column by column, so that its command reads what is written here and the other way round. */
const LEDGER = `CREATE TABLE IF NOT EXISTS "_prisma_migrations" (
  "id" VARCHAR(36) PRIMARY KEY NOT NULL,
  "checksum" VARCHAR(64) NOT NULL,
  "finished_at" TIMESTAMPTZ,
  "migration_name" VARCHAR(255) NOT NULL,
  "logs" TEXT,
  "rolled_back_at" TIMESTAMPTZ,
  "started_at" TIMESTAMPTZ NOT NULL DEFAULT now(),
  "applied_steps_count" INTEGER NOT NULL DEFAULT 0
)`;

/** @typedef {{ name: string, sql: string, checksum: string }} Migration */
/** @typedef {{ migration_name: string, checksum: string, finished_at: Date | null }} LedgerRow */

/**
 * @param {string} [folder]
 * @returns {Migration[]} in the order in which they apply
 */
export function readMigrations(folder = path.join(CHECKOUT, 'prisma/migrations')) {
  return readdirSync(folder, { withFileTypes: true })
    .filter((entry) => entry.isDirectory() && existsSync(path.join(folder, entry.name, 'migration.sql')))
    .map((entry) => entry.name)
    .sort()
    .map((name) => {
      const bytes = readFileSync(path.join(folder, name, 'migration.sql'));
      return {
        name,
        sql: bytes.toString('utf8'),
        checksum: createHash('sha256').update(bytes).digest('hex'),
      };
    });
}

/**
 * Compares the code's migrations with the database's ledger.
 * @param {Migration[]} migrations
 * @param {LedgerRow[]} ledger rows that were not rolled back
 * @returns {Migration[]} those still to apply
 * @throws {LaunchFailure} when the two do not fit each other
 */
export function pendingMigrations(migrations, ledger) {
  const known = new Map(migrations.map((one) => [one.name, one]));
  for (const row of ledger) {
    const migration = known.get(row.migration_name);
    if (!migration) {
      throw new LaunchFailure(
        `The database is newer than this version of Afterbeat: it holds the migration ${row.migration_name}, which is unknown here.`,
        'start the newer version again, or restore the backup that was made before it.',
      );
    }
    if (row.finished_at === null) {
      throw new LaunchFailure(
        `The migration ${row.migration_name} was begun by another tool and never finished.`,
        'look at what it did; then mark it with `npx prisma migrate resolve`, or restore a backup.',
      );
    }
    if (row.checksum !== migration.checksum) {
      throw new LaunchFailure(
        `The migration ${row.migration_name} was changed after the database had applied it.`,
        `put prisma/migrations/${row.migration_name}/migration.sql back as it was; a further change is a new migration.`,
      );
    }
  }
  const applied = new Set(ledger.map((row) => row.migration_name));
  return migrations.filter((one) => !applied.has(one.name));
}

/**
 * Applies what is pending, each migration in a transaction of its own together with its row in the ledger: a start
 * that is killed leaves it done or undone, never halfway.
 * @param {{ ownerUrl: string, migrations?: Migration[], afterwards?: (client: import('pg').Client) => Promise<void> }} options
 *   afterwards runs under the same lock
 * @returns {Promise<{ applied: string[], version: string }>} version is the name of the newest migration
 * @throws {LaunchFailure}
 */
export async function migrate({ ownerUrl, migrations = readMigrations(), afterwards }) {
  return withClient(ownerUrl, async (client) => {
    await takeLock(client);
    try {
      await client.query(LEDGER);
      const { rows } = await client.query(
        'SELECT migration_name, checksum, finished_at FROM "_prisma_migrations" WHERE rolled_back_at IS NULL ORDER BY started_at',
      );
      const pending = pendingMigrations(migrations, rows);
      for (const migration of pending) await apply(client, migration);
      await afterwards?.(client);
      return { applied: pending.map((one) => one.name), version: migrations.at(-1)?.name ?? '' };
    } finally {
      await client.query('SELECT pg_advisory_unlock($1)', [MIGRATION_LOCK]);
    }
  });
}

/** @param {import('pg').Client} client */
async function takeLock(client) {
  const deadline = Date.now() + LOCK_LIMIT_MS;
  for (;;) {
    const { rows } = await client.query('SELECT pg_try_advisory_lock($1) AS taken', [MIGRATION_LOCK]);
    if (rows[0].taken) return;
    if (Date.now() > deadline) {
      throw new LaunchFailure(
        'Another program has been migrating this database for two minutes.',
        'wait for it, then start again.',
      );
    }
    await wait(100);
  }
}

/** @param {import('pg').Client} client @param {Migration} migration */
async function apply(client, migration) {
  try {
    await client.query('BEGIN');
    // A table that somebody holds must not queue every reader behind this migration.
    await client.query("SET LOCAL lock_timeout = '10s'");
    await client.query(migration.sql);
    await client.query(
      `INSERT INTO "_prisma_migrations" (id, checksum, migration_name, started_at, finished_at, applied_steps_count)
       VALUES ($1, $2, $3, now(), clock_timestamp(), 1)`,
      [randomUUID(), migration.checksum, migration.name],
    );
    await client.query('COMMIT');
  } catch (error) {
    await client.query('ROLLBACK');
    throw new LaunchFailure(
      `The migration ${migration.name} failed and was taken back whole: ${messageOf(error)}`,
      'nothing was changed; mend the cause (a lock held by another program: stop it), then start again.',
    );
  }
}
