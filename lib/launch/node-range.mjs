import { LaunchFailure } from './failure.mjs';

/** The same range as "engines" in package.json; Next, Prisma and Vitest ask for it. */
const NODE_RANGE = '^20.19 || ^22.12 || >=24';

/**
 * @param {string} version such as "20.19.1" or "v22.12.0"
 * @returns {boolean} whether the version lies in NODE_RANGE
 */
export function isNodeSupported(version) {
  const match = /^v?(\d+)\.(\d+)\./.exec(version);
  if (!match) return false;
  const major = Number(match[1]);
  const minor = Number(match[2]);
  return (major === 20 && minor >= 19) || (major === 22 && minor >= 12) || major >= 24;
}

/**
 * @param {string} version
 * @throws {LaunchFailure} when the version lies outside NODE_RANGE
 */
export function requireNode(version) {
  if (isNodeSupported(version)) return;
  throw new LaunchFailure(
    `Node ${version} is outside the supported range (${NODE_RANGE}).`,
    'install Node 20.19 or a later 20, Node 22.12 or a later 22, or Node 24 and newer, then start again.',
  );
}
