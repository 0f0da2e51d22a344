import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import path from 'node:path';
import { codeOf } from './failure.mjs';
import { createOnce } from './keys.mjs';
import { identityOf, isAlive } from './process-identity.mjs';

/**
 * Several starts share one server; each of its users leaves a ticket that names a living process.
 * @param {string} databaseDir
 * @returns {() => void} takes this process's ticket back
 */
export function registerUser(databaseDir) {
  const folder = path.join(databaseDir, 'users');
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  const ticket = path.join(folder, String(process.pid));
  rmSync(ticket, { force: true });
  createOnce(ticket, identityOf(process.pid) ?? '');
  return () => rmSync(ticket, { force: true });
}

/**
 * @param {string} databaseDir
 * @returns {number} how many living users the server has; tickets of the dead are removed
 */
export function countUsers(databaseDir) {
  const folder = path.join(databaseDir, 'users');
  if (!existsSync(folder)) return 0;
  let alive = 0;
  for (const name of readdirSync(folder)) {
    if (!/^\d+$/.test(name)) continue;
    const file = path.join(folder, name);
    try {
      if (isAlive(readFileSync(file, 'utf8'))) alive += 1;
      else rmSync(file, { force: true });
    } catch (error) {
      // Taken back in this very moment.
      if (codeOf(error) !== 'ENOENT') throw error;
    }
  }
  return alive;
}
