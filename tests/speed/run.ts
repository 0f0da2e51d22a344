/**
 * `npm run bench`: how long the library takes against R and against a bare loop over the same columns, in turn, in one
 * run on one machine. Options after --: --n=1000000 --rounds=3 --only=PART-OF-A-NAME --slow --growth --no-r
 */
import { cpus } from 'node:os';
import { parseArgs } from 'node:util';
import { GROUPS, LONGEST_DAYS, makeCohort, SEED, type SpeedCohort } from './cohort';
import { type Measured, measureRow } from './measure';
import { missingFromR, openR, type RSession } from './r-session';
import { ROWS } from './rows';
import type { SpeedRow } from './speed-row';
import { tableOf } from './table';

const { values } = parseArgs({
  options: {
    n: { type: 'string', default: '1000000' },
    rounds: { type: 'string', default: '3' },
    only: { type: 'string', default: '' },
    slow: { type: 'boolean', default: false },
    growth: { type: 'boolean', default: false },
    'no-r': { type: 'boolean', default: false },
  },
});

async function main(): Promise<number> {
  const n = wholeNumber('n', values.n);
  const rounds = wholeNumber('rounds', values.rounds);
  const rows = ROWS.filter(({ name }) => name.toLowerCase().includes(values.only.toLowerCase()));
  console.log(`Node ${process.version} on ${cpus().length} x ${cpus()[0]?.model ?? 'unknown'}`);
  console.log(
    `n = ${n}, whole days 0 to ${LONGEST_DAYS}, ${GROUPS} groups, seed ${SEED}; medians of ${rounds} rounds`,
  );
  const measured: Measured[] = [];
  for (const [size, some] of bySize(rows, n)) {
    const cohort = makeCohort(size);
    const r = await openSession(cohort, some);
    for (const row of some) {
      measured.push(await measureRow(row, cohort, r, rounds, values.slow));
      console.log(`  ${row.name}: measured`);
    }
    await r?.close();
  }
  console.log(`\n${tableOf(measured)}`);
  if (values.growth) await printGrowth(rows, n, rounds);
  const wrong = measured.filter(({ r, row }) => r && r.difference > row.agreement);
  for (const { name } of wrong) console.log(`${name}: the numbers differ from R by more than is allowed.`);
  return wrong.length > 0 ? 1 : 0;
}

function wholeNumber(name: string, text: string): number {
  const value = Number(text);
  if (!Number.isInteger(value) || value < 1)
    throw new Error(`--${name}=${text}: give a whole number above 0.`);
  return value;
}

/** Rows that take the same number of cases share a cohort and an R session. */
function bySize(rows: readonly SpeedRow[], n: number): Map<number, SpeedRow[]> {
  const sizes = new Map<number, SpeedRow[]>();
  for (const row of rows) {
    const size = Math.min(n, row.atMost ?? n);
    sizes.set(size, [...(sizes.get(size) ?? []), row]);
  }
  return sizes;
}

async function openSession(cohort: SpeedCohort, rows: readonly SpeedRow[]): Promise<RSession | undefined> {
  if (values['no-r']) return undefined;
  const packages = [...new Set(rows.flatMap(({ r }) => r.packages))];
  const missing = missingFromR(packages);
  if (!missing) return openR(cohort, packages);
  console.log(`No comparison with R: ${missing} is not installed.`);
  return undefined;
}

/** log10 of how much longer ten times as many cases take: 1 is in proportion. */
async function printGrowth(rows: readonly SpeedRow[], n: number, rounds: number): Promise<void> {
  const [small, large] = [makeCohort(n), makeCohort(10 * n)];
  console.log(`\ngrowth exponent from ${n} to ${10 * n}`);
  for (const row of rows.filter(({ atMost }) => atMost === undefined)) {
    const before = await measureRow(row, small, undefined, rounds);
    const after = await measureRow(row, large, undefined, rounds);
    console.log(`  ${row.name}: ${Math.log10(after.libraryMs / before.libraryMs).toFixed(2)}`);
  }
}

process.exitCode = await main();
