import type { Client } from 'pg';

export interface Migration {
  name: string;
  sql: string;
  checksum: string;
}
export interface LedgerRow {
  migration_name: string;
  checksum: string;
  finished_at: Date | null;
}

export function readMigrations(folder?: string): Migration[];
export function pendingMigrations(migrations: Migration[], ledger: LedgerRow[]): Migration[];
export function migrate(options: {
  ownerUrl: string;
  migrations?: Migration[];
  afterwards?: (client: Client) => Promise<void>;
}): Promise<{ applied: string[]; version: string }>;
