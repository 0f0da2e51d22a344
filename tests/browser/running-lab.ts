import { type ChildProcess, spawn } from 'node:child_process';
import { chmodSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import path from 'node:path';

/** Where a lab that was started for tests is, and who may sign in. */
export interface RunningLab {
  readonly address: string;
  readonly dataDir: string;
  /** What the terminal showed. */
  readonly said: () => string;
  readonly stop: () => Promise<void>;
}

export interface SignIn {
  readonly role: string;
  readonly signInName: string;
  readonly password: string;
}

const STARTED = /Afterbeat runs on (http:\/\/localhost:\d+)/;

/** Starts the lab with `npm start`'s own script in a data folder of its own and waits for its address. */
export async function startLab(kind: 'demo' | 'production'): Promise<RunningLab> {
  const dataDir = mkdtempSync(path.join(tmpdir(), 'afterbeat-browser-'));
  chmodSync(dataDir, 0o711);
  const port = await freePort();
  const folder = kind === 'demo' ? { AFTERBEAT_DEMO_DATA: dataDir } : { AFTERBEAT_DATA: dataDir };
  const child = spawn(
    process.execPath,
    ['lib/launch/start.mjs', ...(kind === 'production' ? ['--production'] : [])],
    {
      env: { ...process.env, ...folder, PORT: String(port), AFTERBEAT_LOG: 'warn' },
      stdio: ['ignore', 'pipe', 'pipe'],
    },
  );
  let said = '';
  for (const stream of [child.stdout, child.stderr]) {
    stream.setEncoding('utf8').on('data', (text: string) => {
      said += text;
    });
  }
  const stop = async () => {
    await end(child);
    rmSync(dataDir, { recursive: true, force: true });
  };
  const address = await untilStarted(child, () => said).catch(async (error: unknown) => {
    await stop();
    throw error;
  });
  return { address, dataDir, said: () => said, stop };
}

export function readSignIns(dataDir: string): SignIn[] {
  return JSON.parse(readFileSync(path.join(dataDir, 'demo-sign-ins.json'), 'utf8'));
}

function untilStarted(child: ChildProcess, said: () => string): Promise<string> {
  return new Promise((resolve, reject) => {
    const fail = (why: string) => {
      clearInterval(watch);
      clearTimeout(limit);
      reject(new Error(`${why}\n${said()}`));
    };
    const limit = setTimeout(() => fail('The lab did not start within ten minutes.'), 600_000);
    const watch = setInterval(() => {
      const match = STARTED.exec(said());
      if (match?.[1] === undefined || !said().includes('Stop it with Ctrl-C')) return;
      clearInterval(watch);
      clearTimeout(limit);
      resolve(match[1]);
    }, 100);
    child.once('exit', (code) => fail(`The lab ended with ${code} before it ran.`));
  });
}

function end(child: ChildProcess): Promise<void> {
  return new Promise((resolve) => {
    if (child.exitCode !== null || child.signalCode !== null) return resolve();
    child.once('exit', () => resolve());
    child.kill('SIGTERM');
  });
}

function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const server = createServer().once('error', reject);
    server.listen(0, '127.0.0.1', () => {
      const address = server.address();
      const port = typeof address === 'object' && address ? address.port : 0;
      server.close(() => resolve(port));
    });
  });
}
