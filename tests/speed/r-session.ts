import { type ChildProcessWithoutNullStreams, spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import type { SpeedCohort } from './cohort';

/** One R process that holds the same columns and answers one request after another. */
export type RSession = {
  /** Evaluates the expression as `result`; milliseconds. */
  readonly time: (expression: string) => Promise<number>;
  readonly numbers: (expression: string) => Promise<Float64Array>;
  readonly close: () => Promise<void>;
};

/** Whether Rscript is there with these packages; otherwise what is missing. */
export function missingFromR(packages: readonly string[]): string | undefined {
  const wanted = packages.map((name) => `'${name}'`).join(', ');
  const test = `lacking <- setdiff(c(${wanted}), rownames(installed.packages())); cat(lacking)`;
  const { error, status, stdout } = spawnSync('Rscript', ['-e', test], { encoding: 'utf8' });
  if (error || status !== 0) return 'Rscript';
  return stdout.trim() || undefined;
}

export async function openR(cohort: SpeedCohort, packages: readonly string[]): Promise<RSession> {
  const folder = mkdtempSync(join(tmpdir(), 'afterbeat-speed-'));
  writeColumns(folder, cohort);
  const child = spawn('Rscript', [join(import.meta.dirname, 'session.R'), folder]);
  child.stderr.setEncoding('utf8').on('data', (text: string) => process.stderr.write(text));
  const ask = asker(child);
  const time = async (expression: string): Promise<number> => Number(await ask('time', expression));
  for (const name of packages) await time(`suppressPackageStartupMessages(library(${name}))`);
  return {
    time,
    numbers: async (expression) => {
      const length = Number(await ask('write', expression));
      const bytes = readFileSync(join(folder, 'numbers'));
      return Float64Array.from({ length }, (_, i) => bytes.readDoubleLE(8 * i));
    },
    close: async () => {
      const ended = new Promise((resolve) => child.once('close', resolve));
      child.stdin.end();
      await ended;
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

function asker(child: ChildProcessWithoutNullStreams): (word: string, expression: string) => Promise<string> {
  const lines = createInterface({ input: child.stdout })[Symbol.asyncIterator]();
  return async (word, expression) => {
    child.stdin.write(`${word}\tnumbers\t${expression.replace(/\s+/g, ' ')}\n`);
    for (;;) {
      const line = await lines.next();
      if (line.done) throw new Error('R ended before it answered.');
      const [mark, answer] = line.value.split('\t');
      if (mark !== 'answer') continue;
      if (answer.startsWith('error:')) throw new Error(`R says ${answer} to: ${expression}`);
      return answer;
    }
  };
}

function writeColumns(folder: string, cohort: SpeedCohort): void {
  const { timeDays, event, status, group, treated, leftDays, rightDays, covariates } = cohort;
  const whole = { timeDays, event, status, group, treated };
  const numbered = covariates.map((column, k): [string, Float64Array] => [`x${k + 1}`, column]);
  const real = { leftDays, rightDays, ...Object.fromEntries(numbered) };
  const list: string[] = [];
  for (const [name, column] of Object.entries(whole)) {
    writeFileSync(join(folder, name), new Uint8Array(Int32Array.from(column).buffer));
    list.push(`${name}\tinteger\t${column.length}`);
  }
  for (const [name, column] of Object.entries(real)) {
    writeFileSync(join(folder, name), new Uint8Array(Float64Array.from(column).buffer));
    list.push(`${name}\tdouble\t${column.length}`);
  }
  writeFileSync(join(folder, 'columns.txt'), `${list.join('\n')}\n`);
}
