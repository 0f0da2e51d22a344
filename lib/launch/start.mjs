/**
 * `npm start`: from a fresh clone to a lab in the browser. Every step looks first whether it is needed, so that a
 * second start takes seconds. Whatever this script starts ends with it, even by kill -9.
 */
import path from 'node:path';
import { rebuildOldRows } from './analysis-rows.mjs';
import { appEnvironment } from './app-environment.mjs';
import { build, isBuilt } from './build.mjs';
import { CHECKOUT } from './checkout.mjs';
import { loadDemoLab, readSignIns } from './demo-lab.mjs';
import { describeFailure, LaunchFailure } from './failure.mjs';
import { makeFirstRunLink } from './first-administrator.mjs';
import { lockCheckout, openLab, prepareCheckout, prepareLab } from './lab-session.mjs';
import { choosePort } from './port.mjs';
import { createProgress } from './progress.mjs';
import { stopStepCommands } from './run-step-command.mjs';
import { readSettings } from './settings.mjs';
import { serve } from './web-server.mjs';

const root = CHECKOUT;
const progress = createProgress(process.stdout);

/** What has to be undone, in the order in which it was begun. @type {(() => Promise<unknown> | void)[]} */
const opened = [];
/** @type {Promise<void> | undefined} */
let stopping;

function stop() {
  stopping ??= (async () => {
    await stopStepCommands();
    for (const close of opened.reverse()) await close();
  })();
  return stopping;
}

async function main() {
  const settings = readSettings({ args: process.argv.slice(2), env: process.env, root });
  if (settings.rest.length > 0) {
    throw new LaunchFailure(
      `"${settings.rest.join(' ')}" means nothing here.`,
      'npm start knows one word: npm start -- --production',
    );
  }
  const { dataDir, isProduction } = settings;
  const logDir = path.join(dataDir, 'logs');
  const unlock = await lockCheckout({ root, progress });
  opened.push(unlock);
  await prepareCheckout({ root, logDir: path.join(root, '.data/logs'), progress });
  const port = await choosePort({ asked: settings.port, host: settings.host });
  const address = `http://localhost:${port}`;
  const { database, keys, state } = await openLab({
    settings,
    env: process.env,
    progress,
    mayClear: true,
    onOpen: (release) => opened.push(release),
  });
  const env = appEnvironment({ env: process.env, appUrl: database.appUrl, keys, isProduction, address });
  const data = { root, dataDir, ownerUrl: database.ownerUrl, env };
  await progress.step(isProduction ? 'Lab' : 'Demo lab', async (tell) => {
    if (isProduction && (state.labs === 0 || state.definitions === 0)) {
      await prepareLab({ root, logDir, env, labName: process.env.AFTERBEAT_LAB_NAME });
      return tell('prepared');
    }
    if (isProduction || state.purpose === 'demo') return tell('as it was left');
    await loadDemoLab({ ...data, log: path.join(logDir, 'seed.log') });
    tell('loaded');
  });
  await progress.step('Analysis rows', async (tell) => {
    const asked = await rebuildOldRows({ ...data, log: path.join(logDir, 'rebuild-rows.log') });
    tell(asked ? 'checked against the rules' : 'up to date');
  });
  await progress.step('App', async (tell) => {
    if (isBuilt(root)) return tell('as the sources');
    await build({ root, log: path.join(root, '.data/logs/build.log') });
    tell('built');
  });
  const server = await progress.step('Web server', async (tell) => {
    const log = path.join(logDir, 'web.log');
    const running = await serve({
      root,
      port,
      host: settings.host,
      env,
      log,
      onStart: (one) => opened.push(one.stop),
    });
    tell(`listens on ${settings.host}, port ${port}`);
    return running;
  });
  unlock();
  progress.line('');
  progress.line(`Afterbeat runs on ${env.NEXTAUTH_URL}`);
  if (isProduction) await tellProduction(database.ownerUrl, env, state.administrators);
  else tellDemo(dataDir);
  progress.line('Stop it with Ctrl-C.');
  const code = await server.exited;
  if (stopping) return;
  throw new LaunchFailure(
    `The web server ended (exit code ${code}):\n${server.tail()}`,
    'start again; entries that were saved are kept.',
  );
}

/** @param {string} dataDir */
function tellDemo(dataDir) {
  progress.line('This is the demo lab: every patient is invented. Sign in with');
  const signIns = readSignIns(dataDir);
  if (!signIns)
    progress.line(
      `  (the passwords are gone with demo-sign-ins.json; remove ${dataDir} to begin a new demo lab)`,
    );
  for (const { role, signInName, password } of signIns ?? []) {
    progress.line(`  ${signInName.padEnd(14)} ${password}   ${role === signInName ? '' : role}`.trimEnd());
  }
}

/** @param {string} ownerUrl @param {Record<string, string | undefined>} env @param {number} administrators */
async function tellProduction(ownerUrl, env, administrators) {
  if (administrators > 0) return;
  const link = await makeFirstRunLink({ ownerUrl, address: env.NEXTAUTH_URL ?? '' });
  progress.line('There is no administrator yet. This link opens the first account, once, within 24 hours:');
  progress.line(`  ${link}`);
}

/** @param {number} code */
async function end(code) {
  await stop().catch((error) => console.error(describeFailure(error)));
  process.exit(code);
}

for (const signal of /** @type {const} */ (['SIGINT', 'SIGTERM', 'SIGHUP'])) {
  process.on(signal, () => {
    if (!stopping) progress.line('\nStopping ...');
    void end(0);
  });
}
// npm may be killed without a word to the script it runs.
const parent = process.ppid;
if (process.env.npm_lifecycle_event === 'start') {
  setInterval(() => process.ppid !== parent && void end(1), 1000).unref();
}

main().then(
  () => end(0),
  async (error) => {
    if (stopping) return;
    console.error(`\n${describeFailure(error)}`);
    await end(1);
  },
);
