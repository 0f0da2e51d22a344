import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { onTestFinished } from 'vitest';
import { identityOf, isAlive } from '../../lib/launch/process-identity.mjs';

const SCRIPT = fileURLToPath(new URL('hold-database.mjs', import.meta.url));

/** A process of its own that has the embedded database of a folder open. */
export interface HeldDatabase {
  appUrl: string;
  adminUrl: string;
  home: string;
  /** Lets the database go as a program that ends properly does. */
  release: () => Promise<void>;
  /** kill -9. */
  kill: () => Promise<void>;
}

interface Account {
  uid: number;
  gid: number;
}

/** Starts such a process, optionally as another account. Rejects with what it said when it fails. */
export async function holdDatabase(
  dataDir: string,
  options: { account?: Account } = {},
): Promise<HeldDatabase> {
  const child = spawn(process.execPath, [SCRIPT, dataDir], { cwd: '/', ...options.account, stdio: 'pipe' });
  const exited = new Promise<void>((resolve) => child.once('exit', () => resolve()));
  const kill = async () => {
    child.kill('SIGKILL');
    await exited;
  };
  onTestFinished(kill);
  let said = '';
  child.stderr.setEncoding('utf8').on('data', (text: string) => {
    said += text;
  });
  const line = await new Promise<string>((resolve, reject) => {
    child.stdout.setEncoding('utf8').once('data', resolve);
    child.once('exit', (code) => reject(new Error(`ended with ${code}: ${said}`)));
  });
  const release = async () => {
    child.stdin.end();
    await exited;
  };
  return { ...JSON.parse(line), release, kill };
}

/** Starts such a process and kills it (-9) in the moment that `isMoment` names, before the database is open. */
export async function killWhileOpening(dataDir: string, isMoment: () => boolean): Promise<void> {
  const child = spawn(process.execPath, [SCRIPT, dataDir], {
    cwd: '/',
    stdio: ['pipe', 'ignore', 'inherit'],
  });
  const exited = new Promise<void>((resolve) => child.once('exit', () => resolve()));
  const watch = setInterval(() => isMoment() && child.kill('SIGKILL'), 1);
  await exited;
  clearInterval(watch);
}

/** The identity of the server that the cluster's pid file names, living or not. */
export function serverOf(home: string): string {
  const pid = Number(readFileSync(path.join(home, 'cluster/postmaster.pid'), 'utf8').split('\n')[0]);
  return identityOf(pid) ?? `${pid}:gone`;
}

/** Waits until a process is gone; answers false when it still lives after the limit. */
export async function isGoneWithin(identity: string, limitMs: number): Promise<boolean> {
  const deadline = Date.now() + limitMs;
  while (isAlive(identity)) {
    if (Date.now() > deadline) return false;
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
  return true;
}
