import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { CHECKOUT as root } from '../../lib/launch/checkout.mjs';
import { countPlaywright, countVitest } from './count-results.mjs';
import { findBrowser } from './find-browser.mjs';

/** @typedef {import('./count-results.mjs').Counts & { reason?: string }} Result */

/** Tests meet their own databases and keys only, never those of the person who runs them. */
const PERSONAL = /^(DATABASE_|NEXTAUTH_|AFTERBEAT_(?!FIXTURES$))|^(HOST|PORT|HOSTNAME)$/;
const env = {
  ...Object.fromEntries(Object.entries(process.env).filter(([name]) => !PERSONAL.test(name))),
  NEXT_TELEMETRY_DISABLED: '1',
};

/** @type {Record<string, () => Promise<Result>>} in the order in which they run: quick ones first */
export const SUITES = {
  types: () =>
    check(
      ['next', 'typegen'],
      ['tsc', '--noEmit'],
      ['tsc', '--noEmit', '-p', 'tsconfig.tests.json'],
      ['tsc', '--noEmit', '-p', 'lib/launch/tsconfig.json'],
    ),
  lint: () => check(['biome', 'check', '.']),
  architecture: () =>
    check(['depcruise', '--config', '.dependency-cruiser.cjs', 'app', 'components', 'lib', 'seed', 'tests']),
  'dead-code': () => check(['knip']),
  unit: () => vitest('unit'),
  database: () => vitest('database'),
  browser,
};

/** One check of several commands: it passes when all of them do. @param {string[][]} commands @returns {Promise<Result>} */
async function check(...commands) {
  for (const [tool = '', ...args] of commands) {
    const { code, said } = await run(tool, args, { quiet: true });
    if (code === 0) continue;
    process.stdout.write(said);
    return { passed: 0, failed: 1, leftOut: 0, reason: `${tool} ended with ${code}` };
  }
  return { passed: 1, failed: 0, leftOut: 0 };
}

/** @param {string} project @returns {Promise<Result>} */
function vitest(project) {
  return counted('vitest', countVitest, (report) => [
    ...['run', '--project', project],
    ...['--reporter=default', '--reporter=json', `--outputFile.json=${report}`],
  ]);
}

/** @returns {Promise<Result>} */
async function browser() {
  if (!existsSync(path.join(root, 'playwright.config.ts')))
    throw new Error('playwright.config.ts is missing.');
  const chromium = findBrowser({ env: process.env, root, say: console.log });
  return counted(
    'playwright',
    countPlaywright,
    () => ['test', '--reporter=list,json'],
    (report) => ({
      PLAYWRIGHT_JSON_OUTPUT_FILE: report,
      CHROMIUM_PATH: chromium,
    }),
  );
}

/**
 * Runs a tool that leaves a report, and counts it. A run that failed although every test in it passed (an error
 * outside the tests) counts as one failure more.
 * @param {string} tool
 * @param {(report: string) => import('./count-results.mjs').Counts} count
 * @param {(report: string) => string[]} argsOf
 * @param {(report: string) => Record<string, string | undefined>} [envOf]
 * @returns {Promise<Result>}
 */
async function counted(tool, count, argsOf, envOf = () => ({})) {
  const folder = mkdtempSync(path.join(tmpdir(), 'afterbeat-report-'));
  try {
    const report = path.join(folder, 'report.json');
    const { code } = await run(tool, argsOf(report), { quiet: false, more: envOf(report) });
    if (!existsSync(report)) throw new Error(`${tool} ended with ${code} and left no report.`);
    const counts = count(report);
    if (counts.failed > 0 || (code === 0 && counts.passed > 0)) return counts;
    if (code === 0) return { ...counts, failed: 1, reason: 'no test ran' };
    return { ...counts, failed: 1, reason: `${tool} ended with ${code} beside its tests` };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/**
 * @param {string} tool a command of node_modules
 * @param {string[]} args
 * @param {{ quiet: boolean, more?: Record<string, string | undefined> }} options
 * @returns {Promise<{ code: number, said: string }>}
 */
function run(tool, args, { quiet, more = {} }) {
  return new Promise((resolve, reject) => {
    const child = spawn(path.join(root, 'node_modules/.bin', tool), args, {
      cwd: root,
      env: { ...env, ...more },
      stdio: ['ignore', quiet ? 'pipe' : 'inherit', quiet ? 'pipe' : 'inherit'],
    });
    let said = '';
    for (const stream of [child.stdout, child.stderr]) {
      stream?.setEncoding('utf8').on('data', (text) => {
        said += text;
      });
    }
    child.on('error', reject);
    child.on('close', (code) => resolve({ code: code ?? 1, said }));
  });
}
