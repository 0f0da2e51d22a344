import { spawnSync } from 'node:child_process';
import { chownSync, readFileSync, statSync } from 'node:fs';
import { userInfo } from 'node:os';
import { LaunchFailure } from './failure.mjs';

/**
 * The account that PostgreSQL runs as: undefined for this process's own.
 * @typedef {{ name: string, uid: number, gid: number } | undefined} Account
 */

const USE_OWN =
  'set DATABASE_URL (and DATABASE_OWNER_URL) to a PostgreSQL 15 or newer of your own, then start again.';

/**
 * PostgreSQL refuses to run as root and needs an account with a name: root lends it `postgres` or `nobody`, an
 * ordinary user runs it as himself.
 * @returns {Account}
 * @throws {LaunchFailure} when no account serves
 */
export function chooseAccount() {
  if (process.platform === 'win32')
    throw new LaunchFailure('The embedded PostgreSQL does not run on Windows here.', USE_OWN);
  if (process.getuid?.() !== 0) {
    try {
      userInfo();
    } catch {
      throw new LaunchFailure(
        `The user number ${process.getuid?.()} has no entry in /etc/passwd, and PostgreSQL needs one.`,
        `start as a user that has a name, or ${USE_OWN}`,
      );
    }
    return undefined;
  }
  const accounts = passwdEntries();
  const account =
    accounts.find((one) => one.name === 'postgres') ?? accounts.find((one) => one.name === 'nobody');
  if (!account) {
    throw new LaunchFailure(
      'PostgreSQL refuses to run as root, and neither `postgres` nor `nobody` exists here.',
      USE_OWN,
    );
  }
  return account;
}

/**
 * The account that owns an existing cluster keeps it, whatever accounts have come since.
 * @param {string} cluster folder
 * @returns {Account}
 * @throws {LaunchFailure} when this process may not run as that account
 */
export function accountOfCluster(cluster) {
  const { uid, gid } = statSync(cluster);
  if (process.getuid?.() === uid && uid !== 0) return chooseAccount();
  const owner = passwdEntries().find((one) => one.uid === uid);
  if (process.getuid?.() === 0 && uid !== 0 && owner) return { name: owner.name, uid, gid };
  throw new LaunchFailure(
    `The database folder ${cluster} belongs to ${owner?.name ?? `user number ${uid}`}.`,
    'start as the account that started first, or name another data folder in AFTERBEAT_DATA.',
  );
}

function passwdEntries() {
  return readFileSync('/etc/passwd', 'utf8')
    .split('\n')
    .map((line) => line.split(':'))
    .filter((fields) => fields.length >= 4)
    .map(([name = '', , uid, gid]) => ({ name, uid: Number(uid), gid: Number(gid) }));
}

/** PG* variables of the terminal must not steer the server, so it gets none of them. */
const SERVER_ENVIRONMENT = Object.freeze({
  PATH: '/usr/local/bin:/usr/bin:/bin',
  LANG: 'C',
  LC_ALL: 'C',
  TZ: 'UTC',
});

/**
 * How to spawn as the account. The folder / is the only one that every account may enter.
 * @param {Account} account
 */
export function asAccount(account) {
  return {
    cwd: '/',
    env: { ...SERVER_ENVIRONMENT },
    ...(account ? { uid: account.uid, gid: account.gid } : {}),
  };
}

/**
 * @param {Account} account
 * @param {string} folder
 * @returns {boolean} whether the account can enter the folder (it cannot below a home that is closed to others)
 */
export function canEnter(account, folder) {
  return (
    spawnSync('/bin/sh', ['-c', 'cd "$0"', folder], { ...asAccount(account), stdio: 'ignore' }).status === 0
  );
}

/** @param {Account} account @param {string} file */
export function giveTo(account, file) {
  if (account) chownSync(file, account.uid, account.gid);
}
