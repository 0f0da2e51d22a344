/**
 * `npm run mutation` changes the statistics library one small thing at a time and counts the changes that no test notices.
 * With a folder or a file of it, only that: npm run mutation -- lib/statistics/survival
 */
import { existsSync, statSync } from 'node:fs';
import path from 'node:path';
import { Stryker } from '@stryker-mutator/core';
import { CHECKOUT as root } from '../../lib/launch/checkout.mjs';

const LIBRARY = 'lib/statistics';

const asked = process.argv.slice(2);
const part = path
  .normalize(asked[0] ?? LIBRARY)
  .replace(/[\\/]+$/, '')
  .split(path.sep)
  .join('/');
const place = path.join(root, part);
if (asked.length > 1 || !`${part}/`.startsWith(`${LIBRARY}/`) || !existsSync(place)) {
  console.error(`${asked.join(' ')}: name one folder or file of ${LIBRARY}, or nothing for all of it.`);
  process.exit(2);
}

// The index is a list of exports; files of types alone have nothing to change.
const mutate = [statSync(place).isDirectory() ? `${part}/**/*.ts` : part, '!**/index.ts'];
// A report per part, so that the score of a folder is of that folder alone.
const report = path.posix.join('reports/mutation', part.slice(LIBRARY.length) || 'all');
process.chdir(root);
await new Stryker({
  mutate,
  incrementalFile: `${report}/incremental.json`,
  htmlReporter: { fileName: `${report}/mutation.html` },
}).runMutationTest();
