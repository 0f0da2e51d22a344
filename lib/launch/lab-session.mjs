import path from 'node:path';
import { openLabDatabase } from './database.mjs';
import { withClient } from './database-client.mjs';
import { clearInterruptedLoad } from './demo-lab.mjs';
import { acquireLock } from './file-lock.mjs';
import { generate, isGenerated } from './generate.mjs';
import { grantRights } from './grants.mjs';
import { install, isInstalled } from './install.mjs';
import { openKeys } from './keys.mjs';
import { markPurpose, readLabState, requirePurpose } from './lab-state.mjs';
import { migrate } from './migrate.mjs';
import { requireNode } from './node-range.mjs';
import { ensureFolder, passageMode } from './postgres-cluster.mjs';
import { runProgram } from './programs.mjs';

/** @typedef {import('./settings.mjs').Settings} Settings */
/** @typedef {import('./progress.mjs').Progress} Progress */

const LOCK_LIMIT_MS = 900_000;

/**
 * Steps that change the checkout itself: one start at a time.
 * @param {{ root: string, progress: Progress }} options
 * @returns {Promise<() => void>} lets the next one in
 */
export async function lockCheckout({ root, progress }) {
  const folder = path.join(root, '.data');
  ensureFolder(folder, passageMode());
  return acquireLock(path.join(folder, 'checkout.lock'), {
    timeoutMs: LOCK_LIMIT_MS,
    onWait: (holder) => progress.line(`  waiting for process ${holder}, which is preparing this checkout`),
  });
}

/**
 * Node, packages, generated client: what every program needs before it can run.
 * @param {{ root: string, logDir: string, progress: Progress, withDevelopment?: boolean }} options
 */
export async function prepareCheckout({ root, logDir, progress, withDevelopment = false }) {
  await progress.step('Node', (tell) => {
    requireNode(process.versions.node);
    tell(process.versions.node);
  });
  await progress.step('Packages', async (tell) => {
    if (isInstalled(root, { withDevelopment })) return tell('as locked');
    await install({ root, withDevelopment, log: path.join(logDir, 'install.log') });
    tell('installed');
  });
  await progress.step('Database client', async (tell) => {
    if (isGenerated(root)) return tell('as the schema');
    await generate({ root, log: path.join(logDir, 'generate.log') });
    tell('generated');
  });
}

/**
 * @typedef {object} LabSession
 * @property {import('./database.mjs').LabDatabase} database
 * @property {import('./keys.mjs').Keys} keys
 * @property {import('./lab-state.mjs').LabState} state
 */

/**
 * Database, migrations, rights, keys: from here on programs can work on the lab.
 * @param {{ settings: Settings, env: Record<string, string | undefined>, progress: Progress, mayClear: boolean, onOpen: (release: () => Promise<void>) => void }} options
 *   mayClear: whether an interrupted demo load may be wiped; onOpen is told how to let the database go again
 * @returns {Promise<LabSession>}
 */
export async function openLab({ settings, env, progress, mayClear, onOpen }) {
  const { dataDir, isProduction } = settings;
  ensureFolder(dataDir, passageMode());
  const database = await progress.step('Database', (tell) =>
    openLabDatabase({ dataDir, env, isProduction, log: tell }),
  );
  onOpen(database.release);
  const state = await progress.step('Migrations', async (tell) => {
    let migrated = await migrateAndRead(database, isProduction);
    if (mayClear && migrated.state.purpose === 'demo-loading') {
      await clearInterruptedLoad(database);
      migrated = await migrateAndRead(database, isProduction);
    }
    tell(migrated.applied.length > 0 ? `applied ${migrated.applied.join(', ')}` : 'none to apply');
    return migrated.state;
  });
  const keys = await progress.step('Keys', (tell) => {
    const opened = openKeys({ dataDir, env, mayCreateDataKeys: state.patients === 0 });
    tell(path.join(dataDir, 'keys'));
    return opened;
  });
  return { database, keys, state };
}

/** @param {import('./database.mjs').LabDatabase} database @param {boolean} isProduction */
async function migrateAndRead({ ownerUrl, appUrl }, isProduction) {
  const { applied } = await migrate({
    ownerUrl,
    afterwards: (client) => grantRights(client, new URL(appUrl).username),
  });
  const state = await withClient(ownerUrl, async (client) => {
    const found = await readLabState(client);
    requirePurpose(found, { isProduction });
    if (isProduction && found.purpose === 'unmarked') await markPurpose(client, 'production');
    return found;
  });
  return { applied, state };
}

/**
 * A lab of one's own begins without people and cases, with its definitions and its audit trail.
 * @param {{ root: string, logDir: string, env: Record<string, string | undefined>, labName: string | undefined }} options
 */
export async function prepareLab({ root, logDir, env, labName }) {
  const log = path.join(logDir, 'prepare-lab.log');
  await runProgram({
    root,
    script: 'lib/launch/commands/prepare-lab.ts',
    env: { ...env, AFTERBEAT_LAB_NAME: labName || 'Lab' },
    log,
    what: 'Preparing the lab',
    advice: `read ${log}, mend what it names, then start again.`,
  });
}
