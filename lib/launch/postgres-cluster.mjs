import { spawn } from 'node:child_process';
import { randomBytes } from 'node:crypto';
import { chmodSync, existsSync, mkdirSync, readdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { readIfThere } from './checkout.mjs';
import { LaunchFailure } from './failure.mjs';
import { createOnce } from './keys.mjs';
import { asAccount, canEnter, giveTo } from './postgres-account.mjs';

/** @typedef {import('./postgres-account.mjs').Account} Account */
/** @typedef {{ admin: string, owner: string, app: string }} Passwords */

export const ADMIN = 'afterbeat_admin';
const DRAFT = 'cluster.new.';
const ELSEWHERE = '/var/lib/afterbeat';

/**
 * Makes a folder with exactly this mode, whatever the mask; an existing one keeps its own.
 * @param {string} folder
 * @param {number} mode
 */
export function ensureFolder(folder, mode) {
  if (existsSync(folder)) return;
  mkdirSync(folder, { recursive: true });
  chmodSync(folder, mode);
}

/** Root must let the account that runs PostgreSQL pass through; listing stays closed. */
export const passageMode = () => (process.getuid?.() === 0 ? 0o711 : 0o700);

/**
 * @param {string} databaseDir
 * @returns {string} the folder that holds the cluster, or would hold it
 */
export function homeOnRecord(databaseDir) {
  return readIfThere(path.join(databaseDir, 'moved-to'))?.trim() ?? databaseDir;
}

/**
 * @param {string} databaseDir
 * @returns {string | undefined} the folder that holds the cluster, once it has been settled
 * @throws {LaunchFailure} when it was settled elsewhere and is gone
 */
export function settledHome(databaseDir) {
  const home = homeOnRecord(databaseDir);
  if (home === databaseDir) return existsSync(path.join(home, 'cluster')) ? home : undefined;
  if (existsSync(home)) return home;
  throw new LaunchFailure(
    `The database files in ${home} are gone (${databaseDir}/moved-to names them).`,
    `put them back from a backup; or, to begin with an empty database, remove ${databaseDir}.`,
  );
}

/**
 * Settles where the cluster lives: in the data folder, or, when the account cannot get there (root's home is closed
 * to it), in a folder of its own below /var/lib/afterbeat.
 * @param {string} databaseDir
 * @param {Account} account
 * @returns {string}
 */
export function settleHome(databaseDir, account) {
  if (account === undefined || canEnter(account, databaseDir)) return databaseDir;
  const home = path.join(ELSEWHERE, randomBytes(8).toString('hex'));
  ensureFolder(ELSEWHERE, 0o711);
  ensureFolder(home, 0o711);
  createOnce(path.join(databaseDir, 'moved-to'), `${home}\n`);
  return home;
}

/**
 * @param {string} databaseDir
 * @param {{ clusterExists: boolean }} options
 * @returns {Passwords} kept in a file that only this account reads
 */
export function openPasswords(databaseDir, { clusterExists }) {
  const file = path.join(databaseDir, 'passwords.json');
  if (!existsSync(file)) {
    if (clusterExists) {
      throw new LaunchFailure(
        `The file ${file} is missing, and without it the database does not open.`,
        'put it back from a backup of the data folder.',
      );
    }
    const fresh = () => randomBytes(24).toString('hex');
    createOnce(file, `${JSON.stringify({ admin: fresh(), owner: fresh(), app: fresh() }, null, 2)}\n`);
  }
  return JSON.parse(readIfThere(file) ?? '');
}

/**
 * Makes an empty cluster under another name and renames it when it is whole: an interrupted first start leaves
 * nothing that looks like a database.
 * @param {{ home: string, native: string, account: Account, password: string }} options
 * @returns {Promise<string>} the cluster folder
 */
export async function createCluster({ home, native, account, password }) {
  // What a first start that was killed left behind: never a database, only its beginning.
  for (const name of readdirSync(home)) {
    if (name.startsWith(DRAFT)) rmSync(path.join(home, name), { recursive: true, force: true });
  }
  const draft = path.join(home, `${DRAFT}${randomBytes(4).toString('hex')}`);
  const passwordFile = `${draft}.password`;
  try {
    mkdirSync(draft, { mode: 0o700 });
    writeFileSync(passwordFile, `${password}\n`, { mode: 0o600, flag: 'wx' });
    giveTo(account, draft);
    giveTo(account, passwordFile);
    await runInitdb(path.join(native, 'bin/initdb'), account, [
      ...['--pgdata', draft, '--username', ADMIN, '--pwfile', passwordFile],
      ...['--auth-host=scram-sha-256', '--auth-local=reject', '--encoding=UTF8', '--locale=C'],
      ...['--locale-provider=builtin', '--builtin-locale=C.UTF-8', '--data-checksums'],
    ]);
    renameSync(draft, path.join(home, 'cluster'));
  } finally {
    rmSync(passwordFile, { force: true });
    rmSync(draft, { recursive: true, force: true });
  }
  return path.join(home, 'cluster');
}

/** @param {string} initdb @param {Account} account @param {string[]} args */
async function runInitdb(initdb, account, args) {
  const child = spawn(initdb, args, { ...asAccount(account), stdio: ['ignore', 'pipe', 'pipe'] });
  let said = '';
  for (const stream of [child.stdout, child.stderr]) {
    stream.setEncoding('utf8').on('data', (text) => {
      said += text;
    });
  }
  const code = await new Promise((resolve, reject) => {
    child.on('error', reject);
    child.on('close', resolve);
  });
  if (code === 0) return;
  throw new LaunchFailure(
    `initdb could not make a database cluster:\n${said.trimEnd().replace(/^/gm, '    ')}`,
    'mend what the lines above name (often a full or read-only disk), then start again; or set DATABASE_URL.',
  );
}
