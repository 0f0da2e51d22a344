import { closeSync, mkdirSync, openSync, readFileSync, renameSync, statSync } from 'node:fs';
import path from 'node:path';
import { codeOf, LaunchFailure } from './failure.mjs';
import { startGuarded } from './guarded-process.mjs';

const LOG_LIMIT_BYTES = 10_000_000;
const TAIL_LINES = 25;

/**
 * Opens a log for appending; a long one is set aside first, so that logs never grow without bound.
 * @param {string} file
 * @returns {number} file descriptor
 */
export function openLog(file) {
  mkdirSync(path.dirname(file), { recursive: true, mode: 0o700 });
  try {
    if (statSync(file).size > LOG_LIMIT_BYTES) renameSync(file, `${file}.1`);
  } catch (error) {
    if (codeOf(error) !== 'ENOENT') throw error;
  }
  return openSync(file, 'a', 0o600);
}

/**
 * @param {string} file
 * @param {number} [fromByte] where this run's part begins
 * @returns {string} the last lines, indented for the terminal
 */
export function tailOf(file, fromByte = 0) {
  const text = readFileSync(file).subarray(fromByte).toString('utf8').trimEnd();
  return text
    .split('\n')
    .slice(-TAIL_LINES)
    .map((line) => `    ${line}`)
    .join('\n');
}

/** @type {Set<import('./guarded-process.mjs').GuardedProcess>} */
const running = new Set();

/** Ends every command that is still running; for a start that is interrupted. */
export async function stopStepCommands() {
  await Promise.all([...running].map((one) => one.stop()));
}

/**
 * Runs a command to its end with its output in a log, and shows the end of the log when it fails.
 * @param {{ command: string, args: string[], cwd: string, env: Record<string, string | undefined>, log: string, what: string, advice: string }} run
 * @throws {LaunchFailure} when the command fails
 */
export async function runStepCommand({ command, args, cwd, env, log, what, advice }) {
  const fd = openLog(log);
  const fromByte = statSync(log).size;
  const child = startGuarded(command, args, { cwd, env, stdio: ['ignore', fd, fd] });
  running.add(child);
  try {
    const code = await child.exited;
    if (code !== 0) {
      throw new LaunchFailure(`${what} failed (exit code ${code}):\n${tailOf(log, fromByte)}`, advice);
    }
  } finally {
    running.delete(child);
    closeSync(fd);
  }
}
