/**
 * `npm test`: everything that is checked, from a fresh clone on, with one line of totals at the end.
 * Authors name a part of it: npm test -- --only=unit,database
 */
import path from 'node:path';
import { CHECKOUT as root } from '../lib/launch/checkout.mjs';
import { describeFailure } from '../lib/launch/failure.mjs';
import { lockCheckout, prepareCheckout } from '../lib/launch/lab-session.mjs';
import { createProgress } from '../lib/launch/progress.mjs';
import { SUITES } from './run/suites.mjs';

const progress = createProgress(process.stdout);

/** @returns {string[]} the names of the suites asked for */
function chosenSuites() {
  const all = Object.keys(SUITES);
  const args = process.argv.slice(2);
  const only = args.find((arg) => arg.startsWith('--only='));
  const chosen = only ? only.slice('--only='.length).split(',') : all;
  const unknown = [...args.filter((arg) => arg !== only), ...chosen.filter((name) => !all.includes(name))];
  if (unknown.length === 0) return all.filter((name) => chosen.includes(name));
  console.error(`"${unknown.join(' ')}" means nothing here. Write --only= and some of: ${all.join(',')}`);
  process.exit(2);
}

async function prepare() {
  const unlock = await lockCheckout({ root, progress });
  try {
    await prepareCheckout({ root, logDir: path.join(root, '.data/logs'), progress, withDevelopment: true });
  } finally {
    unlock();
  }
}

const chosen = chosenSuites();
const total = { passed: 0, failed: 0 };
try {
  await prepare();
  for (const name of chosen) {
    const startedAt = performance.now();
    console.log(`\n${name}`);
    const run = SUITES[name];
    /** @type {import('./run/suites.mjs').Result} */
    const result = run
      ? await run().catch((error) => ({ passed: 0, failed: 1, leftOut: 0, reason: describeFailure(error) }))
      : { passed: 0, failed: 1, leftOut: 0, reason: 'no such suite' };
    total.passed += result.passed;
    total.failed += result.failed;
    const seconds = ((performance.now() - startedAt) / 1000).toFixed(1);
    const leftOut = result.leftOut > 0 ? `, ${result.leftOut} left out` : '';
    console.log(`${name}: ${result.passed} passed, ${result.failed} failed${leftOut} (${seconds} s)`);
    if (result.reason) console.log(`  ${result.reason}`);
  }
} catch (error) {
  console.error(describeFailure(error));
  console.log('Nothing could be tested, so every suite counts as failed.');
  total.failed += chosen.length;
}
console.log(`\n${total.passed} passed, ${total.failed} failed`);
process.exitCode = total.failed > 0 ? 1 : 0;
