import { realpathSync } from 'node:fs';
import { homedir } from 'node:os';
import path from 'node:path';
import { codeOf, LaunchFailure } from './failure.mjs';
import { readPort } from './port.mjs';

/**
 * @typedef {object} Settings
 * @property {boolean} isProduction
 * @property {string} dataDir keys, logs and the embedded database
 * @property {number | undefined} port the one asked for
 * @property {string} host the address to listen on
 * @property {string[]} rest arguments that are not the launcher's
 */

const LOOPBACK = '127.0.0.1';

/**
 * Reads what the person asked for from arguments and environment.
 * @param {{ args: string[], env: Record<string, string | undefined>, root: string }} given
 * @returns {Settings}
 * @throws {LaunchFailure}
 */
export function readSettings({ args, env, root }) {
  const isProduction = args.includes('--production');
  const host = env.HOST || LOOPBACK;
  if (!isProduction && !isLoopback(host)) {
    throw new LaunchFailure(
      `HOST=${host} would open the demo lab to the network; it is served on this machine only.`,
      'leave HOST out, or start a lab of your own with: npm start -- --production',
    );
  }
  return {
    isProduction,
    dataDir: isProduction ? productionFolder(env, root) : demoFolder(env, root),
    port: readPort(env.PORT),
    host: host === 'localhost' ? LOOPBACK : host,
    rest: args.filter((arg) => arg !== '--production'),
  };
}

/** @param {string} host */
function isLoopback(host) {
  return host === 'localhost' || host === '::1' || /^127(\.\d{1,3}){3}$/.test(host);
}

/**
 * AFTERBEAT_DEMO_DATA lets tests run a demo lab beside the one in the checkout.
 * @param {Record<string, string | undefined>} env @param {string} root
 */
function demoFolder(env, root) {
  return env.AFTERBEAT_DEMO_DATA ? path.resolve(env.AFTERBEAT_DEMO_DATA) : path.join(root, '.data');
}

/** @param {Record<string, string | undefined>} env @param {string} root */
function productionFolder(env, root) {
  const folder = path.resolve(
    env.AFTERBEAT_DATA || path.join(env.XDG_DATA_HOME || path.join(homedir(), '.local/share'), 'afterbeat'),
  );
  const demo = real(demoFolder(env, root));
  const relative = path.relative(demo, real(folder));
  if (
    relative === '' ||
    !(relative === '..' || relative.startsWith(`..${path.sep}`) || path.isAbsolute(relative))
  ) {
    throw new LaunchFailure(
      `AFTERBEAT_DATA=${folder} is the demo lab's folder.`,
      'name another folder for real data; the demo lab may be deleted at any time.',
    );
  }
  return folder;
}

/** Links resolved as far as the folder exists. @param {string} folder @returns {string} */
function real(folder) {
  try {
    return realpathSync(folder);
  } catch (error) {
    if (codeOf(error) !== 'ENOENT') throw error;
    const parent = path.dirname(folder);
    return parent === folder ? folder : path.join(real(parent), path.basename(folder));
  }
}
