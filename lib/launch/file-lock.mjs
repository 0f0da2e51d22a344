import { randomBytes } from 'node:crypto';
import { linkSync, readFileSync, renameSync, unlinkSync, writeFileSync } from 'node:fs';
import { setTimeout as wait } from 'node:timers/promises';
import { codeOf, LaunchFailure } from './failure.mjs';
import { identityOf, isAlive } from './process-identity.mjs';

/**
 * Holds a lock among processes that share a folder. The lock is a file that names its holder; the lock of a holder
 * that died is taken over.
 * @param {string} path
 * @param {{ timeoutMs: number, onWait?: (holder: string) => void }} options
 * @returns {Promise<() => void>} releases the lock
 * @throws {LaunchFailure} when the holder lives on past the timeout
 */
export async function acquireLock(path, { timeoutMs, onWait }) {
  const ticket = `${path}.${process.pid}.${randomBytes(4).toString('hex')}`;
  const own = identityOf(process.pid) ?? String(process.pid);
  const text = `${own}\n${randomBytes(8).toString('hex')}\n`;
  const deadline = Date.now() + timeoutMs;
  let told = false;
  writeFileSync(ticket, text, { mode: 0o600, flag: 'wx' });
  try {
    // A link appears whole or not at all: no reader ever sees a lock without its holder.
    while (!tryLink(ticket, path)) {
      const holder = readIfThere(path);
      if (holder === undefined) continue;
      const identity = holder.split('\n')[0] ?? '';
      if (!isAlive(identity)) {
        breakLock(path, holder);
        continue;
      }
      if (Date.now() > deadline) {
        throw new LaunchFailure(
          `Process ${identity.split(':')[0]} has held ${path} for too long.`,
          'wait until it is done, or end that process, then start again.',
        );
      }
      if (!told) onWait?.(identity.split(':')[0] ?? '');
      told = true;
      await wait(50);
    }
  } finally {
    unlinkSync(ticket);
  }
  return () => {
    if (readIfThere(path) === text) unlinkSync(path);
  };
}

/** @param {string} from @param {string} to */
function tryLink(from, to) {
  try {
    linkSync(from, to);
    return true;
  } catch (error) {
    if (codeOf(error) === 'EEXIST') return false;
    throw error;
  }
}

/** @param {string} path */
function readIfThere(path) {
  try {
    return readFileSync(path, 'utf8');
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return undefined;
    throw error;
  }
}

/**
 * Moves a dead holder's lock aside. If another process was quicker, what was moved is that process's fresh lock:
 * then it is put back.
 * @param {string} path @param {string} dead the text of the dead holder's lock
 */
function breakLock(path, dead) {
  const aside = `${path}.${process.pid}.broken`;
  try {
    renameSync(path, aside);
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return;
    throw error;
  }
  if (readFileSync(aside, 'utf8') !== dead) tryLink(aside, path);
  unlinkSync(aside);
}
