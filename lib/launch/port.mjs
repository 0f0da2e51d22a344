import { createServer } from 'node:net';
import { codeOf, LaunchFailure } from './failure.mjs';

export const DEFAULT_PORT = 3000;
const LAST_PORT = 65_535;
const LOOPBACKS = ['127.0.0.1', '::1'];

/**
 * @param {string | undefined} text the variable PORT
 * @returns {number | undefined} undefined when it is not given
 * @throws {LaunchFailure} when it is no port
 */
export function readPort(text) {
  if (text === undefined || text === '') return undefined;
  const port = Number(text);
  if (/^\d+$/.test(text) && port >= 1 && port <= LAST_PORT) return port;
  throw new LaunchFailure(
    `PORT=${text} is no port.`,
    'give a whole number from 1 to 65535, such as PORT=3000.',
  );
}

/**
 * Browsers try both loopback addresses for "localhost", so a port counts as free only when it is free on both.
 * @param {number} port
 * @param {string} [host] a further address to serve on
 * @returns {Promise<boolean>}
 * @throws {LaunchFailure} when this account may not use the port, or the address is not this machine's
 */
export async function isPortFree(port, host) {
  for (const address of new Set([...LOOPBACKS, ...(host ? [host] : [])])) {
    const code = await tryToListen(port, address);
    if (code === 'EADDRINUSE') return false;
    if (code === 'EACCES') {
      throw new LaunchFailure(`This account may not serve on port ${port}.`, 'give a PORT of 1024 or above.');
    }
    if (code !== undefined && address === host && !LOOPBACKS.includes(host)) {
      throw new LaunchFailure(
        `HOST=${host} is no address of this machine (${code}).`,
        'give an address of this machine, or none.',
      );
    }
  }
  return true;
}

/** @param {number} port @param {string} host @returns {Promise<string | undefined>} the error code */
function tryToListen(port, host) {
  return new Promise((resolve) => {
    const server = createServer();
    server.once('error', (error) => resolve(codeOf(error) ?? 'unknown'));
    server.listen({ port, host, exclusive: true }, () => server.close(() => resolve(undefined)));
  });
}

/**
 * The port to serve on: the one asked for or none; by default 3000 or the next free one.
 * @param {{ asked: number | undefined, host?: string, isFree?: (port: number) => Promise<boolean> }} options
 * @returns {Promise<number>}
 * @throws {LaunchFailure} when the port asked for is busy; the message names a free one
 */
export async function choosePort({ asked, host, isFree = (port) => isPortFree(port, host) }) {
  const first = asked ?? DEFAULT_PORT;
  if (await isFree(first)) return first;
  for (let port = first + 1; port <= LAST_PORT; port += 1) {
    if (!(await isFree(port))) continue;
    if (asked === undefined) return port;
    throw new LaunchFailure(
      `Port ${asked} is busy.`,
      `stop what uses it, or start with PORT=${port}, which is free.`,
    );
  }
  throw new LaunchFailure(`No port from ${first} to ${LAST_PORT} is free.`, 'give a lower PORT.');
}

/** @returns {Promise<number>} a free port of the loopback address, chosen by the system */
export function findFreePort() {
  return new Promise((resolve, reject) => {
    const server = createServer();
    server.once('error', reject);
    server.listen({ port: 0, host: '127.0.0.1' }, () => {
      const address = server.address();
      server.close(() => {
        if (address === null || typeof address === 'string') reject(new Error('a port was asked for'));
        else resolve(address.port);
      });
    });
  });
}
