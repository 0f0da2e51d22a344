/**
 * `npm run import -- FILE`: runs one of lib/launch/commands on the lab, beside a running server or without one.
 * Paths among the arguments are read from the folder in which the person typed the command.
 */
import { existsSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { appEnvironment } from './app-environment.mjs';
import { CHECKOUT } from './checkout.mjs';
import { describeFailure, LaunchFailure } from './failure.mjs';
import { startGuarded } from './guarded-process.mjs';
import { lockCheckout, openLab, prepareCheckout, prepareLab } from './lab-session.mjs';
import { DEFAULT_PORT } from './port.mjs';
import { programArguments } from './programs.mjs';
import { createProgress } from './progress.mjs';
import { stopStepCommands } from './run-step-command.mjs';
import { readSettings } from './settings.mjs';

const root = CHECKOUT;
/** Progress goes to the other stream: what the command prints stays clean for a file or a pipe. */
const progress = createProgress(process.stderr);

/** @type {(() => Promise<unknown> | void)[]} */
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

/** @returns {Promise<number>} the exit code of the command */
async function main() {
  const [name, ...args] = process.argv.slice(2);
  const script = scriptOf(name);
  const { HOST: _, PORT: __, ...env } = process.env;
  const settings = readSettings({ args, env, root });
  const unlock = await lockCheckout({ root, progress });
  opened.push(unlock);
  await prepareCheckout({ root, logDir: path.join(root, '.data/logs'), progress });
  unlock();
  const { database, keys, state } = await openLab({
    settings,
    env,
    progress,
    mayClear: false,
    onOpen: (release) => opened.push(release),
  });
  const address = `http://localhost:${DEFAULT_PORT}`;
  const { isProduction, dataDir } = settings;
  const appEnv = appEnvironment({ env, appUrl: database.appUrl, keys, isProduction, address });
  if (!isProduction && state.purpose !== 'demo') {
    throw new LaunchFailure(
      'The demo lab is not loaded yet.',
      'run `npm start` once (or add --production to work on your own lab), then try again.',
    );
  }
  if (isProduction && (state.labs === 0 || state.definitions === 0)) {
    await prepareLab({
      root,
      logDir: path.join(dataDir, 'logs'),
      env: appEnv,
      labName: env.AFTERBEAT_LAB_NAME,
    });
  }
  const child = startGuarded(process.execPath, programArguments(script, settings.rest), {
    cwd: env.INIT_CWD || process.cwd(),
    env: { ...appEnv, TSX_TSCONFIG_PATH: path.join(root, 'tsconfig.json') },
    stdio: 'inherit',
  });
  opened.push(child.stop);
  return child.exited;
}

/** @param {string | undefined} name */
function scriptOf(name) {
  const folder = path.join(root, 'lib/launch/commands');
  const script = path.join(folder, `${name}.ts`);
  if (name && /^[a-z-]+$/.test(name) && existsSync(script)) return script;
  const known = existsSync(folder) ? readdirSync(folder).filter((one) => one.endsWith('.ts')) : [];
  throw new LaunchFailure(
    `There is no command ${name ?? 'without a name'}.`,
    `the commands are: ${known.map((one) => one.slice(0, -3)).join(', ')}.`,
  );
}

/** @param {number} code */
async function end(code) {
  await stop().catch((error) => console.error(describeFailure(error)));
  process.exit(code);
}

for (const signal of /** @type {const} */ (['SIGINT', 'SIGTERM', 'SIGHUP']))
  process.on(signal, () => void end(130));

main().then(end, async (error) => {
  if (stopping) return;
  console.error(`\n${describeFailure(error)}`);
  await end(1);
});
