import { cpSync, existsSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { fingerprint, readIfThere } from './checkout.mjs';
import { LaunchFailure } from './failure.mjs';
import { runStepCommand } from './run-step-command.mjs';

const STAMP = '.next/made-from';
const SOURCES = [
  'app',
  'components',
  'lib',
  'prisma/schema.prisma',
  'public',
  'proxy.ts',
  'next.config.ts',
  'postcss.config.mjs',
  'instrumentation.ts',
  'tsconfig.json',
  'package-lock.json',
];
// The launcher is no part of the app; the generated client follows from the schema.
const NOT_SOURCES = ['lib/launch', 'lib/records/generated'];

/** @param {string} root @returns {string} changes whenever the app has to be built again */
function appFingerprint(root) {
  return fingerprint(root, SOURCES, { except: NOT_SOURCES });
}

/**
 * @param {string} root the checkout
 * @returns {boolean} whether the built app belongs to today's sources
 */
export function isBuilt(root) {
  return (
    readIfThere(path.join(root, STAMP)) === appFingerprint(root) &&
    existsSync(path.join(standaloneOf(root), 'server.js'))
  );
}

/**
 * Next nests the app when it believes in a larger workspace (a lock file in a folder above): it says where.
 * @param {string} root
 * @returns {string} the folder of server.js
 */
export function standaloneOf(root) {
  const described = readIfThere(path.join(root, '.next/required-server-files.json'));
  const nested = described === undefined ? '' : (JSON.parse(described).relativeAppDir ?? '');
  return path.join(root, '.next/standalone', nested);
}

/**
 * Builds the app and completes its standalone folder with the static files that Next leaves beside it.
 * @param {{ root: string, log: string }} options
 */
export async function build({ root, log }) {
  if (!existsSync(path.join(root, 'app'))) {
    throw new LaunchFailure('The folder app/ is missing.', 'check the files out again.');
  }
  // Read first: a file that is saved while the build runs is then built at the next start.
  const madeFrom = appFingerprint(root);
  await runStepCommand({
    command: process.execPath,
    args: [path.join(root, 'node_modules/next/dist/bin/next'), 'build'],
    cwd: root,
    env: buildEnvironment(process.env),
    log,
    what: 'next build',
    advice: 'mend the source that the lines above name, then start again.',
  });
  const standalone = standaloneOf(root);
  cpSync(path.join(root, '.next/static'), path.join(standalone, '.next/static'), { recursive: true });
  if (existsSync(path.join(root, 'public'))) {
    cpSync(path.join(root, 'public'), path.join(standalone, 'public'), { recursive: true });
  }
  writeFileSync(path.join(root, STAMP), madeFrom);
}

/**
 * The build gets no key and no database: nothing secret can then end up in what it writes.
 * @param {Record<string, string | undefined>} env
 * @returns {Record<string, string | undefined>}
 */
function buildEnvironment(env) {
  const kept = Object.entries(env).filter(([name]) => !/^(DATABASE_|NEXTAUTH_|AFTERBEAT_)/.test(name));
  return { ...Object.fromEntries(kept), NODE_ENV: 'production', NEXT_TELEMETRY_DISABLED: '1' };
}
