import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';

const GUARD = fileURLToPath(new URL('guard.mjs', import.meta.url));

/**
 * @typedef {object} GuardedProcess
 * @property {Promise<number>} exited resolves with the exit code
 * @property {() => Promise<number>} stop ends the command and all its children, resolves when they are gone
 * @property {() => boolean} isRunning
 */

/**
 * Starts a command that ends when this process ends, however it ends (see guard.mjs).
 * @param {string} command
 * @param {string[]} args
 * @param {{ cwd?: string, env?: Record<string, string | undefined>, stdio: 'inherit' | ['ignore', number, number] }} options
 * @returns {GuardedProcess}
 */
export function startGuarded(command, args, { cwd, env, stdio }) {
  const streams = stdio === 'inherit' ? /** @type {const} */ (['inherit', 'inherit', 'inherit']) : stdio;
  const guard = spawn(process.execPath, [GUARD, command, ...args], {
    ...(cwd === undefined ? {} : { cwd }),
    ...(env === undefined ? {} : { env }),
    stdio: [...streams, 'pipe'],
    detached: true,
  });
  let running = true;
  const exited = new Promise((/** @type {(code: number) => void} */ resolve, reject) => {
    guard.on('error', reject);
    guard.on('exit', (code) => {
      running = false;
      resolve(code ?? 1);
    });
  });
  const lifeline = guard.stdio[3];
  // The guard may be gone before the pipe is closed: that is the aim, not an error.
  lifeline?.on('error', () => {});
  return {
    exited,
    isRunning: () => running,
    async stop() {
      lifeline?.destroy();
      return exited;
    },
  };
}
