import { createHash } from 'node:crypto';
import { readFile, stat } from 'node:fs/promises';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { CSV_LIMITS } from '../../exchange/csv-records';
import { decodeDeviceCsv } from '../../exchange/device-csv';
import { type OnDifference, planDeviceImport } from '../../exchange/device-plan';
import { counted, deviceReportOf, sayDeviceReport } from '../../exchange/device-report';
import { sayFinding } from '../../exchange/import-finding';
import { publishDeviceDays } from '../../exchange/publish-device-days';
import { actorOfProgram } from '../../records/actor-of-program';
import { closeRecords } from '../../records/close';
import { readDevicePatients } from '../../records/device-days/read';
import { openDeviceBatch, storeDeviceDays } from '../../records/device-days/write';
import { calendarDay } from '../../registry/calendar-day';
import { ApplicationError } from '../../runtime/application-error';
import { todayText } from '../../runtime/clock';

const DONE = 0;
const REFUSED = 1;
const WRONG_USE = 2;

export const USAGE = `Usage: npm run import-device-days -- FILE [--publish] [--accept-refused] [--keep | --replace] [--lab=ID]

  FILE              CSV: patient, day, device, burden_seconds or burden_minutes or burden_percent, longest_episode_seconds
  --publish         write; without it nothing is written and the report says what would be
  --accept-refused  go on although rows are refused: they are left out
  --keep            days stored with other values stay as they are
  --replace         days stored with other values are replaced; the trail keeps both
  --lab=ID          which lab, when there are several

Written patient by patient: when it is stopped, the same command goes on where it was.
Ends with 0 when all went well, 1 when something was refused, 2 when it was called wrongly.`;

interface Place {
  readonly folder: string;
  readonly say: (line: string) => void;
}

const OPTIONS = ['publish', 'accept-refused', 'keep', 'replace'] as const;
type Option = (typeof OPTIONS)[number];

interface Order {
  readonly file: string;
  readonly options: ReadonlySet<Option>;
  readonly lab: string | undefined;
}

/** Reads, reports and, when asked, publishes a file of device days. Answers the exit code. */
export async function runDeviceImport(args: readonly string[], { folder, say }: Place): Promise<number> {
  const order = readOrder(args, folder);
  if (typeof order === 'string') {
    for (const line of [order, '', USAGE]) say(line);
    return WRONG_USE;
  }
  const bytes = await readBounded(order.file);
  if (typeof bytes === 'string') {
    say(`The file ${order.file} ${bytes}`);
    return WRONG_USE;
  }
  try {
    return await checkAndPublish(order, bytes, say);
  } catch (error) {
    // What the lab refuses is said in its own words; anything else is a defect and passes through.
    if (!(error instanceof ApplicationError) || error.kind === 'internal') throw error;
    say(error.message);
    return REFUSED;
  }
}

async function checkAndPublish(order: Order, bytes: Uint8Array, say: Place['say']): Promise<number> {
  const decoded = decodeDeviceCsv(bytes, calendarDay(todayText()));
  if (decoded.kind === 'refused') {
    say(`Refused: ${sayFinding(decoded.finding)}`);
    return REFUSED;
  }
  const actor = await actorOfProgram('import', order.lab);
  const codes = [...new Set(decoded.rows.map(({ patientCode }) => patientCode))];
  const plan = planDeviceImport(decoded, await readDevicePatients(actor, codes));
  for (const line of sayDeviceReport(deviceReportOf(decoded, plan))) say(line);
  const onDifference = differenceRule(order, plan.differences.length);
  const stop = whyStopped(order, plan.refusals.length, onDifference);
  if (stop) {
    say(stop);
    return REFUSED;
  }
  if (!order.options.has('publish')) {
    say('Dry run: nothing was written. Add --publish to write it.');
    return DONE;
  }
  const fileSha256 = new Uint8Array(createHash('sha256').update(bytes).digest());
  const published = await publishDeviceDays(decoded, plan, onDifference ?? 'keep', {
    openBatch: (file) => openDeviceBatch(actor, { ...file, fileSha256 }),
    storePatient: (batchId, patient) => storeDeviceDays(actor, batchId, patient),
    onProgress: (done, planned) => {
      if (done % 50 === 0 && done < planned) say(`Written: ${done} of ${planned} patients.`);
    },
  });
  say(
    published
      ? `Written: ${counted(published.days, 'day', 'days')} of ${counted(published.patients, 'patient', 'patients')}.`
      : 'Everything in the file is stored already; nothing was changed.',
  );
  return DONE;
}

function differenceRule({ options }: Order, differences: number): OnDifference | undefined {
  if (options.has('replace')) return 'replace';
  return options.has('keep') || differences === 0 ? 'keep' : undefined;
}

function whyStopped({ options }: Order, refused: number, rule: OnDifference | undefined): string | undefined {
  if (refused > 0 && !options.has('accept-refused')) {
    return 'Rows are refused: mend them, or add --accept-refused to leave them out. Nothing was written.';
  }
  return rule === undefined
    ? 'Days are stored with other values: add --keep to leave them, or --replace to take those of the file. Nothing was written.'
    : undefined;
}

function readOrder(args: readonly string[], folder: string): Order | string {
  const files: string[] = [];
  const options = new Set<Option>();
  let lab: string | undefined;
  for (const arg of args) {
    const option = OPTIONS.find((name) => arg === `--${name}`);
    const named = /^--lab=(.+)$/.exec(arg)?.[1];
    if (option) options.add(option);
    else if (named) lab = named;
    else if (arg.startsWith('--'))
      return `There is no option ${arg.split('=')[0]?.slice(0, 40)} in this form.`;
    else files.push(arg);
  }
  if (options.has('keep') && options.has('replace')) return '--keep and --replace exclude each other.';
  const [file, another] = files;
  if (file === undefined) return 'Name the file to import.';
  if (another !== undefined) return 'Name one file only.';
  return { file: path.resolve(folder, file), options, lab };
}

/** The bytes of a file, or what is wrong with it. */
async function readBounded(file: string): Promise<Uint8Array | string> {
  try {
    const facts = await stat(file);
    if (!facts.isFile()) return 'is not a file.';
    if (facts.size > CSV_LIMITS.bytes) return `is larger than ${CSV_LIMITS.bytes} bytes.`;
    return await readFile(file);
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? error.code : undefined;
    if (code === 'ENOENT') return 'does not exist.';
    if (code === 'EACCES') return 'may not be read by this account.';
    throw error;
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const folder = process.env.INIT_CWD ?? process.cwd();
  try {
    process.exitCode = await runDeviceImport(process.argv.slice(2), {
      folder,
      say: (line) => console.log(line),
    });
  } finally {
    await closeRecords();
  }
}
