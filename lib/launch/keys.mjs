import { randomBytes } from 'node:crypto';
import { chmodSync, linkSync, mkdirSync, statSync, unlinkSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { readIfThere } from './checkout.mjs';
import { codeOf, LaunchFailure } from './failure.mjs';

/** @typedef {{ NEXTAUTH_SECRET: string, AFTERBEAT_MASTER_KEY: string, AFTERBEAT_IDENTITY_KEY: string }} Keys */

/** Without these two the patients' data cannot be read again; a lost session secret only signs everybody out. */
const DATA_KEYS = /** @type {const} */ (['AFTERBEAT_MASTER_KEY', 'AFTERBEAT_IDENTITY_KEY']);
const KEY_BYTES = 32;

/**
 * Reads the keys: an environment variable wins, else the file of that name (mode 0600), which is made when absent.
 * @param {{ dataDir: string, env: Record<string, string | undefined>, mayCreateDataKeys: boolean }} options
 *   mayCreateDataKeys: false once patients are stored, because a new key would not open what the old one closed
 * @returns {Keys}
 * @throws {LaunchFailure} for a key that is malformed, readable by others, or lost
 */
export function openKeys({ dataDir, env, mayCreateDataKeys }) {
  const folder = path.join(dataDir, 'keys');
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  chmodSync(folder, 0o700);
  const read = (/** @type {string} */ name, /** @type {boolean} */ mayCreate) =>
    env[name] || keyFromFile(path.join(folder, name), mayCreate);
  const secret = read('NEXTAUTH_SECRET', true);
  if (secret.length < KEY_BYTES) {
    throw new LaunchFailure(
      'NEXTAUTH_SECRET is shorter than 32 characters.',
      'give a longer one, or none: then one is made.',
    );
  }
  const [master, identity] = DATA_KEYS.map((name) => checked(name, read(name, mayCreateDataKeys)));
  if (master === undefined || identity === undefined) throw new Error('both data keys are read above');
  if (master === identity) {
    throw new LaunchFailure(
      'AFTERBEAT_MASTER_KEY and AFTERBEAT_IDENTITY_KEY are the same.',
      'give two different keys.',
    );
  }
  return { NEXTAUTH_SECRET: secret, AFTERBEAT_MASTER_KEY: master, AFTERBEAT_IDENTITY_KEY: identity };
}

/**
 * A variable may list several keys, newest first, parted by commas: the older ones still open what they closed.
 * @param {string} name
 * @param {string} text
 */
function checked(name, text) {
  const isKey = (/** @type {string} */ key) => {
    const bytes = Buffer.from(key, 'base64');
    return bytes.length === KEY_BYTES && bytes.toString('base64') === key;
  };
  if (text.split(',').every((key) => isKey(key.trim()))) return text;
  throw new LaunchFailure(
    `${name} is not 32 bytes in base64.`,
    'give the key that the data were written with; a new one comes from: openssl rand -base64 32',
  );
}

/**
 * @param {string} file
 * @param {boolean} mayCreate
 * @returns {string}
 */
function keyFromFile(file, mayCreate) {
  const found = readIfThere(file);
  if (found === undefined) {
    if (!mayCreate) {
      throw new LaunchFailure(
        `The key ${file} is missing, and the database already holds patients that were written with it.`,
        `put the file back from its backup, or give the key in the environment variable ${path.basename(file)}.`,
      );
    }
    createOnce(file, `${randomBytes(KEY_BYTES).toString('base64')}\n`);
    return keyFromFile(file, false);
  }
  if ((statSync(file).mode & 0o077) !== 0) {
    throw new LaunchFailure(`The key ${file} can be read by other accounts.`, `run: chmod 600 ${file}`);
  }
  return found.trim();
}

/**
 * Two starts at once agree on one key: the file appears whole, and the first one stays.
 * @param {string} file
 * @param {string} text
 */
export function createOnce(file, text) {
  const draft = `${file}.${process.pid}.${randomBytes(4).toString('hex')}`;
  writeFileSync(draft, text, { mode: 0o600, flag: 'wx', flush: true });
  try {
    linkSync(draft, file);
  } catch (error) {
    if (codeOf(error) !== 'EEXIST') throw error;
  } finally {
    unlinkSync(draft);
  }
}
