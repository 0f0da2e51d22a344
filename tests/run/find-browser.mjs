import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';

const SYSTEM_NAMES = ['chromium', 'chromium-browser', 'google-chrome-stable', 'google-chrome'];
const ADVICE = 'run `npx playwright install chromium` once, or name a Chromium in CHROMIUM_PATH';

/**
 * Finds a Chromium: CHROMIUM_PATH, then the test tool's own, then one of the system, then, as root where apt-get is at
 * hand, the distribution's package.
 * @param {{ env: Record<string, string | undefined>, root: string, say: (line: string) => void }} options
 * @returns {string} path of the executable
 * @throws {Error} a plain sentence with the way out
 */
export function findBrowser({ env, root, say }) {
  if (env.CHROMIUM_PATH) {
    if (existsSync(env.CHROMIUM_PATH)) return env.CHROMIUM_PATH;
    throw new Error(`CHROMIUM_PATH names ${env.CHROMIUM_PATH}, which does not exist; ${ADVICE}.`);
  }
  const own = ownBrowser(root);
  if (existsSync(own)) return own;
  const found = inPath(env);
  if (found) return found;
  if (process.getuid?.() === 0 && existsSync('/usr/bin/apt-get')) {
    say('No Chromium here: installing the distribution’s package.');
    const aptEnv = { ...env, DEBIAN_FRONTEND: 'noninteractive' };
    // Without the recommended packages the page has no fonts for the figures of a fallback.
    for (const args of [
      ['update', '-qq'],
      ['install', '-y', '-qq', '--no-install-recommends', 'chromium', 'fonts-liberation'],
    ]) {
      spawnSync('apt-get', args, { env: aptEnv, stdio: ['ignore', 'ignore', 'inherit'] });
    }
    const installed = inPath(env);
    if (installed) return installed;
  }
  throw new Error(`There is no Chromium on this machine; ${ADVICE}.`);
}

/** @param {string} root */
function ownBrowser(root) {
  const { chromium } = createRequire(path.join(root, 'package.json'))('@playwright/test');
  return chromium.executablePath();
}

/** @param {Record<string, string | undefined>} env @returns {string | undefined} */
function inPath(env) {
  return (env.PATH ?? '')
    .split(path.delimiter)
    .flatMap((folder) => SYSTEM_NAMES.map((name) => path.join(folder, name)))
    .find((file) => path.isAbsolute(file) && existsSync(file));
}
