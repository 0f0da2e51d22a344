import { randomInt } from 'node:crypto';
import { existsSync, rmSync } from 'node:fs';
import path from 'node:path';
import { readIfThere } from './checkout.mjs';
import { withClient } from './database-client.mjs';
import { DATABASE, ensureEmptyDatabase } from './embedded-database.mjs';
import { LaunchFailure } from './failure.mjs';
import { createOnce } from './keys.mjs';
import { markPurpose } from './lab-state.mjs';
import { runProgram } from './programs.mjs';

/** @typedef {{ role: string, signInName: string, password: string }} SignIn */

const ROLES = ['coordinator', 'physician', 'director', 'administrator'];
/** Without letters and figures that are mistaken for each other. */
const ALPHABET = 'abcdefghjkmnpqrstuvwxyz23456789';
const GROUPS = 4;
const GROUP_LENGTH = 5;

/** @returns {string} a password of 20 signs in four groups: 99 bits */
function newPassword() {
  const group = () =>
    Array.from({ length: GROUP_LENGTH }, () => ALPHABET[randomInt(ALPHABET.length)]).join('');
  return Array.from({ length: GROUPS }, group).join('-');
}

/** @param {string} dataDir */
const signInsFile = (dataDir) => path.join(dataDir, 'demo-sign-ins.json');

/**
 * @param {string} dataDir
 * @returns {SignIn[] | undefined} undefined when the file is gone
 */
export function readSignIns(dataDir) {
  const text = readIfThere(signInsFile(dataDir));
  return text === undefined ? undefined : JSON.parse(text);
}

/**
 * Loads the invented lab with people whose passwords exist on this machine only. The database is marked before and
 * after: a load that was interrupted is seen at the next start.
 * @param {{ root: string, dataDir: string, ownerUrl: string, env: Record<string, string | undefined>, log: string }} options
 */
export async function loadDemoLab({ root, dataDir, ownerUrl, env, log }) {
  const file = signInsFile(dataDir);
  if (existsSync(file)) rmSync(file);
  const signIns = ROLES.map((role) => ({ role, signInName: role, password: newPassword() }));
  createOnce(file, `${JSON.stringify(signIns, null, 2)}\n`);
  await withClient(ownerUrl, (client) => markPurpose(client, 'demo-loading'));
  await runProgram({
    root,
    script: 'seed/load.ts',
    env: { ...env, AFTERBEAT_DEMO_SIGN_INS: file },
    log,
    what: 'Loading the demo lab',
    advice: `read ${log}, mend what it names, then start again: the demo lab is then loaded anew.`,
  });
  await withClient(ownerUrl, (client) => markPurpose(client, 'demo'));
}

/**
 * Empties a demo database whose load was interrupted. The trail refuses deletion, so the database is made anew;
 * nobody can have typed anything into it, because the app never ran on it.
 * @param {{ adminUrl: string | undefined }} options
 * @throws {LaunchFailure} when the server is not ours
 */
export async function clearInterruptedLoad({ adminUrl }) {
  if (adminUrl === undefined) {
    throw new LaunchFailure(
      'Loading the demo lab into this database was interrupted.',
      'drop the database that DATABASE_URL names, create it empty, then start again.',
    );
  }
  await withClient(adminUrl, async (client) => {
    await client.query(`DROP DATABASE ${DATABASE} WITH (FORCE)`);
    await ensureEmptyDatabase(client);
  });
}
