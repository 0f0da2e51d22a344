/**
 * Stands for one user of the embedded server. Its file descriptor 3 is a pipe to the process that uses the
 * database: when that process closes it, or dies in whatever way, the keeper signs it off, and the last keeper stops
 * the server. It lives in a session of its own, so that Ctrl-C in the terminal does not reach it.
 * Usage: node database-keeper.mjs DATABASE_FOLDER
 */
import { Socket } from 'node:net';
import path from 'node:path';
import { countUsers, registerUser } from './database-users.mjs';
import { acquireLock } from './file-lock.mjs';
import { homeOnRecord } from './postgres-cluster.mjs';
import { stopServer } from './postgres-server.mjs';

const databaseDir = process.argv[2];
if (databaseDir === undefined) throw new Error('database-keeper.mjs needs the database folder');
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) process.on(signal, () => {});

const signOff = registerUser(databaseDir);
const lifeline = new Socket({ fd: 3, readable: true, writable: true });
lifeline.on('error', () => {});
lifeline.write('ready');
await new Promise((resolve) => lifeline.on('close', resolve).resume());

const unlock = await acquireLock(path.join(databaseDir, 'lock'), { timeoutMs: 700_000 });
try {
  signOff();
  if (countUsers(databaseDir) === 0) await stopServer(path.join(homeOnRecord(databaseDir), 'cluster'));
} finally {
  unlock();
}
