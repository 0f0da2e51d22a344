import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, statSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { codeOf } from './failure.mjs';

/** The folder that holds package.json. */
export const CHECKOUT = fileURLToPath(new URL('../../', import.meta.url)).replace(/[\\/]$/, '');

/**
 * A fingerprint of files: changes when any of them changes, appears, disappears or is renamed.
 * @param {string} root
 * @param {string[]} entries files and folders below root; those that are absent count as absent
 * @param {{ except?: string[] }} [options] folders below root to leave out
 * @returns {string} SHA-256, hexadecimal
 */
export function fingerprint(root, entries, { except = [] } = {}) {
  const hash = createHash('sha256');
  const left = new Set(except.map((one) => path.join(root, one)));
  /** @param {string} file */
  const add = (file) => {
    if (left.has(file)) return;
    let stats;
    try {
      stats = statSync(file);
    } catch (error) {
      if (codeOf(error) === 'ENOENT') return;
      throw error;
    }
    if (stats.isDirectory()) {
      for (const name of readdirSync(file).sort()) add(path.join(file, name));
      return;
    }
    const content = readFileSync(file);
    hash.update(`${path.relative(root, file)}\0${content.length}\0`).update(content);
  };
  for (const entry of [...entries].sort()) add(path.join(root, entry));
  return hash.digest('hex');
}

/**
 * @param {string} file
 * @returns {string | undefined} its text, or undefined when it is absent
 */
export function readIfThere(file) {
  try {
    return readFileSync(file, 'utf8');
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return undefined;
    throw error;
  }
}
