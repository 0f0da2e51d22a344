import 'server-only';
import { database, type Transaction } from './database';

type KeepClient = Pick<Transaction, 'draft' | 'writeRequest' | 'setupLink' | 'signInCounter'>;

/** The door for working tables (KEEP_TABLES): a transaction without an audit entry that can reach nothing else. */
export function keep<T>(work: (tables: KeepClient) => Promise<T>): Promise<T> {
  return database().$transaction(({ draft, writeRequest, setupLink, signInCounter }) =>
    work({ draft, writeRequest, setupLink, signInCounter }),
  );
}
