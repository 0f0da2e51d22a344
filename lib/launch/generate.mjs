import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { CHECKOUT, fingerprint, readIfThere } from './checkout.mjs';
import { describeFailure } from './failure.mjs';
import { runStepCommand } from './run-step-command.mjs';

const STAMP = 'lib/records/generated/.made-from';

/** @param {string} root */
const sourcesOf = (root) =>
  fingerprint(root, ['prisma/schema.prisma', 'prisma.config.ts', 'node_modules/prisma/package.json']);

/**
 * @param {string} root the checkout
 * @returns {boolean} whether the generated client belongs to today's schema
 */
export function isGenerated(root) {
  return readIfThere(path.join(root, STAMP)) === sourcesOf(root);
}

/**
 * Generates the Prisma client. The command asks for an engine that it never runs; naming Node itself keeps it from
 * looking for one on the network.
 * @param {{ root: string, log: string }} options
 */
export async function generate({ root, log }) {
  await runStepCommand({
    command: process.execPath,
    args: [path.join(root, 'node_modules/prisma/build/index.js'), 'generate'],
    cwd: root,
    env: {
      ...process.env,
      PRISMA_SCHEMA_ENGINE_BINARY: process.execPath,
      PRISMA_HIDE_UPDATE_MESSAGE: '1',
      CHECKPOINT_DISABLE: '1',
    },
    log,
    what: 'prisma generate',
    advice: 'mend prisma/schema.prisma where the lines above point, then start again.',
  });
  writeFileSync(path.join(root, STAMP), sourcesOf(root));
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  generate({ root: CHECKOUT, log: path.join(CHECKOUT, '.data/logs/generate.log') }).catch((error) => {
    console.error(describeFailure(error));
    process.exitCode = 1;
  });
}
