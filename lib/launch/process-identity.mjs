import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { codeOf } from './failure.mjs';

/**
 * A process number alone is not an identity: numbers are reused. The number and the moment the process began are.
 * @param {number} pid
 * @returns {string | undefined} the identity, or undefined when no such process lives (a zombie does not live)
 */
export function identityOf(pid) {
  if (!Number.isInteger(pid) || pid <= 0) return undefined;
  if (process.platform === 'linux') {
    try {
      // The name in parentheses may hold spaces and parentheses: fields are counted after the last one.
      const stat = readFileSync(`/proc/${pid}/stat`, 'utf8');
      const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ');
      return fields[0] === 'Z' || fields[0] === 'X' ? undefined : `${pid}:${fields[19]}`;
    } catch (error) {
      if (codeOf(error) === 'ENOENT' || codeOf(error) === 'ESRCH') return undefined;
      throw error;
    }
  }
  const listed = spawnSync('ps', ['-o', 'lstart=,stat=', '-p', String(pid)], { encoding: 'utf8' });
  const text = listed.stdout?.trim() ?? '';
  return text === '' || /\sZ\S*$/.test(text) ? undefined : `${pid}:${text.replace(/\s\S+$/, '')}`;
}

/**
 * @param {string} identity as answered by identityOf
 * @returns {boolean} whether that very process still lives
 */
export function isAlive(identity) {
  return identityOf(Number(identity.split(':')[0])) === identity;
}
