import { closeSync, statSync } from 'node:fs';
import path from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { standaloneOf } from './build.mjs';
import { LaunchFailure, messageOf } from './failure.mjs';
import { startGuarded } from './guarded-process.mjs';
import { openLog, tailOf } from './run-step-command.mjs';

const READY_LIMIT_MS = 60_000;

/**
 * @typedef {object} WebServer
 * @property {Promise<number>} exited
 * @property {() => Promise<number>} stop
 * @property {() => string} tail the end of what it said
 */

/**
 * Serves the built app and waits until it answers.
 * @param {{ root: string, port: number, host: string, env: Record<string, string | undefined>, log: string, onStart: (server: WebServer) => void }} options
 *   onStart is told before the first answer, so that an interrupted start can stop the server
 * @returns {Promise<WebServer>}
 * @throws {LaunchFailure} when it ends or stays silent
 */
export async function serve({ root, port, host, env, log, onStart }) {
  const fd = openLog(log);
  const fromByte = statSync(log).size;
  const folder = standaloneOf(root);
  const child = startGuarded(process.execPath, [path.join(folder, 'server.js')], {
    cwd: folder,
    env: { ...env, PORT: String(port), HOSTNAME: host },
    stdio: ['ignore', fd, fd],
  });
  closeSync(fd);
  const server = { exited: child.exited, stop: child.stop, tail: () => tailOf(log, fromByte) };
  onStart(server);
  const address = `http://${hostToAsk(host)}:${port}/api/health`;
  const deadline = Date.now() + READY_LIMIT_MS;
  let last = 'no answer yet';
  while (child.isRunning() && Date.now() < deadline) {
    last = await askHealth(address);
    if (last === '200' && child.isRunning()) return server;
    await wait(50);
  }
  const state = child.isRunning() ? `does not become healthy (${last})` : 'ended';
  await child.stop();
  throw new LaunchFailure(
    `The web server ${state}:\n${server.tail()}`,
    `mend what the lines above name; the whole log is ${log}.`,
  );
}

/** An address that listens everywhere is asked on the loopback. @param {string} host */
function hostToAsk(host) {
  if (host === '0.0.0.0') return '127.0.0.1';
  if (host === '::') return '[::1]';
  return host.includes(':') ? `[${host}]` : host;
}

/** @param {string} address @returns {Promise<string>} the status, or why there is none */
async function askHealth(address) {
  try {
    const answer = await fetch(address, { signal: AbortSignal.timeout(5000), redirect: 'manual' });
    await answer.text();
    return String(answer.status);
  } catch (error) {
    return error instanceof Error && error.cause ? messageOf(error.cause) : messageOf(error);
  }
}
