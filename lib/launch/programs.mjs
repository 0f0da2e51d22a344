import { existsSync } from 'node:fs';
import path from 'node:path';
import { LaunchFailure } from './failure.mjs';
import { runStepCommand } from './run-step-command.mjs';

/**
 * How Node runs one of the TypeScript programs that work on the app's own rooms: `react-server` is the condition
 * under which modules that belong to the server alone can be loaded.
 * @param {string} script absolute path
 * @param {string[]} [args]
 * @returns {string[]} arguments of node
 */
export function programArguments(script, args = []) {
  return ['--conditions=react-server', '--import', import.meta.resolve('tsx'), script, ...args];
}

/**
 * Runs a program to its end as a step of the start.
 * @param {{ root: string, script: string, env: Record<string, string | undefined>, log: string, what: string, advice: string }} run
 *   script: path below the checkout
 */
export async function runProgram({ root, script, env, log, what, advice }) {
  const file = path.join(root, script);
  if (!existsSync(file))
    throw new LaunchFailure(`The program ${script} is missing.`, 'check the files out again.');
  await runStepCommand({
    command: process.execPath,
    args: programArguments(file),
    cwd: root,
    env: { ...env, TSX_TSCONFIG_PATH: path.join(root, 'tsconfig.json') },
    log,
    what,
    advice,
  });
}
