import { existsSync } from 'node:fs';
import path from 'node:path';
import { readIfThere } from './checkout.mjs';
import { LaunchFailure } from './failure.mjs';
import { runStepCommand } from './run-step-command.mjs';

/** @typedef {{ version?: string, integrity?: string, dev?: boolean, optional?: boolean, devOptional?: boolean }} LockedPackage */

/**
 * npm writes what it installed into node_modules as the last act of an installation, so an installation that was
 * interrupted is recognised too.
 * @param {string} root the checkout
 * @param {{ withDevelopment: boolean }} options
 * @returns {boolean} whether every package of package-lock.json that is needed stands in node_modules in that version
 */
export function isInstalled(root, { withDevelopment }) {
  const wanted = packagesOf(path.join(root, 'package-lock.json'));
  const present = packagesOf(path.join(root, 'node_modules', '.package-lock.json'));
  if (!wanted) throw new LaunchFailure('package-lock.json is missing.', 'check the files out again.');
  if (!present) return false;
  return Object.entries(wanted).every(([place, locked]) => {
    if (place === '') return true;
    if (locked.dev && !withDevelopment) return true;
    const found = present[place];
    // Packages for other systems are optional and rightly absent.
    if (found === undefined) return Boolean(locked.optional || locked.devOptional);
    return found.version === locked.version && found.integrity === locked.integrity;
  });
}

/** @param {string} file @returns {Record<string, LockedPackage> | undefined} */
function packagesOf(file) {
  const text = readIfThere(file);
  return text === undefined ? undefined : JSON.parse(text).packages;
}

/**
 * Installs what package-lock.json names. Install scripts never run: nothing here depends on one.
 * @param {{ root: string, withDevelopment: boolean, log: string }} options
 */
export async function install({ root, withDevelopment, log }) {
  const [command, ...before] = npmCommand();
  const { NODE_ENV: _, ...env } = process.env;
  await runStepCommand({
    command,
    args: [
      ...before,
      'ci',
      '--ignore-scripts',
      '--no-audit',
      '--no-fund',
      `--${withDevelopment ? 'include' : 'omit'}=dev`,
    ],
    cwd: root,
    env,
    log,
    what: 'npm ci',
    advice:
      'check that the package registry can be reached (npm ping) and that there are 2 GB of free space, then start again.',
  });
}

/** @returns {[string, ...string[]]} the npm that started this script, else the one beside Node, else the one in PATH */
function npmCommand() {
  const running = process.env.npm_execpath;
  if (running?.endsWith('npm-cli.js') && existsSync(running)) return [process.execPath, running];
  const beside = path.resolve(path.dirname(process.execPath), '../lib/node_modules/npm/bin/npm-cli.js');
  return existsSync(beside) ? [process.execPath, beside] : ['npm'];
}
