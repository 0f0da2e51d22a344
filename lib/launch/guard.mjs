/**
 * Runs one command and never outlives the process that asked for it: file descriptor 3 is a pipe whose other end
 * that process holds, so its death, even by kill -9, closes the pipe and ends the command with all its children.
 * Usage: node guard.mjs COMMAND [ARGUMENT...]
 */
import { spawn } from 'node:child_process';
import { Socket } from 'node:net';
import { constants } from 'node:os';

const GRACE_MS = 8000;
const [command, ...args] = process.argv.slice(2);
if (command === undefined) throw new Error('guard.mjs needs a command');

// The terminal's Ctrl-C reaches the asking process, which decides when to close the pipe.
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) process.on(signal, () => {});

// A session of its own makes the command and its children one group that can be ended whole.
const child = spawn(command, args, { stdio: ['inherit', 'inherit', 'inherit'], detached: true });

/** @param {NodeJS.Signals} signal */
function endGroup(signal) {
  if (child.pid === undefined) return;
  try {
    process.kill(-child.pid, signal);
  } catch (error) {
    // The group is already gone.
    if (!(error instanceof Error && 'code' in error && error.code === 'ESRCH')) throw error;
  }
}

let isEnding = false;
function end() {
  if (isEnding) return;
  isEnding = true;
  endGroup('SIGTERM');
  setTimeout(() => endGroup('SIGKILL'), GRACE_MS).unref();
}

const lifeline = new Socket({ fd: 3, readable: true, writable: false });
lifeline.on('end', end).on('close', end).on('error', end).resume();

child.on('error', (error) => {
  console.error(`${command} could not be started: ${error.message}`);
  process.exit(127);
});
child.on('exit', (code, signal) => {
  // Children that the command left behind go with it.
  endGroup('SIGKILL');
  process.exit(code ?? 128 + (signal ? constants.signals[signal] : 0));
});
