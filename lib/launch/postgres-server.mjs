import { spawn } from 'node:child_process';
import { closeSync, readdirSync, readFileSync, readlinkSync, realpathSync, rmSync } from 'node:fs';
import path from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { readIfThere } from './checkout.mjs';
import { codeOf, LaunchFailure } from './failure.mjs';
import { findFreePort } from './port.mjs';
import { asAccount } from './postgres-account.mjs';
import { identityOf, isAlive } from './process-identity.mjs';
import { openLog, tailOf } from './run-step-command.mjs';

/** @typedef {import('./postgres-account.mjs').Account} Account */
/** @typedef {{ pid: number, identity: string, port: number, isReady: boolean }} RunningServer */

const PORT_ATTEMPTS = 5;
const RECOVERY_LIMIT_MS = 600_000;
const ORPHAN_LIMIT_MS = 15_000;
const FAST_STOP_LIMIT_MS = 30_000;

const SETTINGS = {
  listen_addresses: '127.0.0.1',
  unix_socket_directories: '',
  timezone: 'UTC',
  log_timezone: 'UTC',
  cluster_name: 'afterbeat',
  // Values of rows never reach the log: neither failed statements nor the details of an error are written.
  log_min_error_statement: 'panic',
  log_error_verbosity: 'terse',
};

/**
 * Reads who serves the cluster. A pid file alone proves nothing: after kill -9 it stays, and its number may since
 * belong to a stranger.
 * @param {string} cluster folder
 * @returns {RunningServer | undefined}
 */
export function runningServer(cluster) {
  const lines = readIfThere(path.join(cluster, 'postmaster.pid'))?.split('\n') ?? [];
  const pid = Number(lines[0]);
  const identity = identityOf(pid);
  if (identity === undefined || !servesCluster(pid, cluster)) return undefined;
  return { pid, identity, port: Number(lines[3]), isReady: lines[7]?.trim() === 'ready' };
}

/** @param {number} pid @param {string} cluster */
function servesCluster(pid, cluster) {
  try {
    // PostgreSQL's processes work inside their cluster folder, and nobody else does.
    if (process.platform === 'linux') return readlinkSync(`/proc/${pid}/cwd`) === realpathSync(cluster);
    return readFileSync(path.join(cluster, 'postmaster.opts'), 'utf8').includes(cluster);
  } catch (error) {
    if (['ENOENT', 'ESRCH', 'EACCES', 'EPERM'].includes(codeOf(error) ?? '')) return false;
    throw error;
  }
}

/**
 * @param {string} cluster
 * @returns {string[]} identities of every process that works in the cluster
 */
function processesOf(cluster) {
  if (process.platform !== 'linux') return [];
  return readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name) && servesCluster(Number(name), cluster))
    .map((name) => identityOf(Number(name)))
    .filter((identity) => identity !== undefined);
}

/**
 * Backends outlive a killed postmaster until they notice: a new server must wait for them. One that never notices
 * is ended; what it had acknowledged is in the write-ahead log.
 * @param {string} cluster
 */
async function waitForOrphans(cluster) {
  const deadline = Date.now() + ORPHAN_LIMIT_MS;
  for (;;) {
    const orphans = processesOf(cluster);
    if (orphans.length === 0) return;
    if (Date.now() > deadline) for (const one of orphans) process.kill(Number(one.split(':')[0]), 'SIGKILL');
    await wait(50);
  }
}

/**
 * Starts the server of a cluster that no server runs on, on a random free port of the loopback address.
 * @param {{ cluster: string, native: string, account: Account, log: string }} options
 * @returns {Promise<RunningServer>} once it accepts connections
 * @throws {LaunchFailure} with the end of its log
 */
export async function startServer({ cluster, native, account, log }) {
  await waitForOrphans(cluster);
  rmSync(path.join(cluster, 'postmaster.pid'), { force: true });
  for (let attempt = 1; ; attempt += 1) {
    const port = await findFreePort();
    const fd = openLog(log);
    const fromByte = readFileSync(log).length;
    const settings = Object.entries({ ...SETTINGS, port: String(port) }).flatMap(([name, value]) => [
      '-c',
      `${name}=${value}`,
    ]);
    // A session of its own: the terminal's Ctrl-C must not stop the server under an app that is still saving.
    const child = spawn(path.join(native, 'bin/postgres'), ['-D', cluster, ...settings], {
      ...asAccount(account),
      stdio: ['ignore', fd, fd],
      detached: true,
    });
    closeSync(fd);
    const server = await untilReady(child, cluster);
    if (server) {
      child.unref();
      return server;
    }
    const tail = tailOf(log, fromByte);
    if (attempt < PORT_ATTEMPTS && /could not bind|address already in use/i.test(tail)) continue;
    throw new LaunchFailure(
      `The embedded PostgreSQL did not start:\n${tail}`,
      `mend what the lines above name (often a full disk), then start again; the whole log is ${log}.`,
    );
  }
}

/**
 * @param {import('node:child_process').ChildProcess} child
 * @param {string} cluster
 */
async function untilReady(child, cluster) {
  let hasEnded = false;
  child.on('exit', () => {
    hasEnded = true;
  });
  child.on('error', () => {
    hasEnded = true;
  });
  const deadline = Date.now() + RECOVERY_LIMIT_MS;
  while (!hasEnded && Date.now() < deadline) {
    const server = runningServer(cluster);
    if (server?.isReady && server.pid === child.pid) return server;
    await wait(20);
  }
  return undefined;
}

/**
 * Stops the server of a cluster: open transactions are rolled back, everything acknowledged is on disk.
 * @param {string} cluster
 */
export async function stopServer(cluster) {
  const server = runningServer(cluster);
  if (!server) return;
  if (await endsAfter(server, 'SIGINT', FAST_STOP_LIMIT_MS)) return;
  if (await endsAfter(server, 'SIGQUIT', FAST_STOP_LIMIT_MS)) return;
  throw new LaunchFailure(`PostgreSQL (process ${server.pid}) does not stop.`, `end process ${server.pid}.`);
}

/** @param {RunningServer} server @param {NodeJS.Signals} signal @param {number} limitMs */
async function endsAfter(server, signal, limitMs) {
  try {
    process.kill(server.pid, signal);
  } catch (error) {
    if (codeOf(error) !== 'ESRCH') throw error;
  }
  const deadline = Date.now() + limitMs;
  while (isAlive(server.identity)) {
    if (Date.now() > deadline) return false;
    await wait(20);
  }
  return true;
}
