import { createHash, randomBytes, randomUUID } from 'node:crypto';
import { readFile, stat } from 'node:fs/promises';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { CSV_LIMITS } from '../../exchange/csv-records';
import { sayFinding } from '../../exchange/import-finding';
import { findEarlierImport, publishImport } from '../../exchange/publish-import';
import { type DecodedRhythm, decodeRhythmCsv } from '../../exchange/rhythm-csv';
import {
  EXAMPLE_MAPPING,
  MAX_MAPPING_CHARACTERS,
  parseRhythmMapping,
  type RhythmMapping,
} from '../../exchange/rhythm-mapping';
import { reportOf, sayReport } from '../../exchange/rhythm-report';
import type { Actor } from '../../records/actor';
import { actorOfProgram } from '../../records/actor-of-program';
import { bulkLoadPatients } from '../../records/bulk-load';
import { closeRecords } from '../../records/close';
import { readCohort } from '../../records/cohort';
import { readImports } from '../../records/imports/read';
import { calendarDay } from '../../registry/calendar-day';
import { ApplicationError } from '../../runtime/application-error';
import { todayText } from '../../runtime/clock';

const DONE = 0;
/** The file, or rows of it, were refused; or the lab refused the import. Nothing was written. */
const REFUSED = 1;
const WRONG_USE = 2;

export const USAGE = `Usage: npm run import -- FILE [--mapping=FILE] [--publish] [--accept-refused] [--lab=ID]

  FILE              CSV of rhythm readings, one row per reading
  --mapping=FILE    how the CSV is read (JSON); default: FILE.mapping.json beside FILE
  --publish         write; without it nothing is written and the report says what would be
  --accept-refused  go on although rows are refused: they are left out
  --lab=ID          which lab, when there are several

Ends with 0 when all went well, 1 when something was refused, 2 when it was called wrongly.`;

interface Order {
  readonly file: string;
  readonly mapping: string;
  readonly publish: boolean;
  readonly acceptRefused: boolean;
  readonly lab: string | undefined;
}

/** Where the person stands: npm moves to the package's folder and says where it was called. */
interface Place {
  readonly folder: string;
  readonly say: (line: string) => void;
}

/** Reads, reports and, when asked, publishes a file of rhythm readings. Answers the exit code. */
export async function runImport(args: readonly string[], { folder, say }: Place): Promise<number> {
  const order = readOrder(args, folder);
  if (typeof order === 'string') {
    for (const line of [order, '', USAGE]) say(line);
    return WRONG_USE;
  }
  const mapping = await readMapping(order, say);
  const bytes = await readBounded(order.file, CSV_LIMITS.bytes);
  if ('fault' in bytes) say(`The file ${order.file} ${bytes.fault}`);
  if (!mapping || 'fault' in bytes) return WRONG_USE;
  const decoded = decodeRhythmCsv(bytes, mapping, calendarDay(todayText()));
  if (decoded.kind === 'refused') {
    say(`Refused: ${sayFinding(decoded.finding)}`);
    return REFUSED;
  }
  for (const line of sayReport(reportOf(decoded, mapping))) say(line);
  return goOn(order, bytes, decoded, mapping, say).catch((error: unknown) => answerOf(error, say));
}

async function goOn(
  order: Order,
  bytes: Uint8Array,
  decoded: DecodedRhythm,
  mapping: RhythmMapping,
  say: Place['say'],
): Promise<number> {
  const actor = await actorOfProgram('import', order.lab);
  const fileSha256 = new Uint8Array(createHash('sha256').update(bytes).digest());
  const earlier = findEarlierImport(await readImports(actor), mapping.source, fileSha256);
  if (earlier) {
    say(
      `This very file was imported on ${earlier.at.slice(0, 10)} from "${mapping.source}"; nothing was changed.`,
    );
    return DONE;
  }
  const stopped = decoded.refusals.length > 0 && !order.acceptRefused;
  if (stopped)
    say('Rows are refused: mend them, or add --accept-refused to leave them out. Nothing was written.');
  else if (decoded.patients.length === 0) say('No reading was accepted. Nothing was written.');
  if (stopped || decoded.patients.length === 0) return REFUSED;
  if (!order.publish) {
    say('Dry run: nothing was written. Add --publish to write it.');
    return DONE;
  }
  return publish(actor, fileSha256, decoded, mapping, say);
}

async function publish(
  actor: Actor,
  fileSha256: Uint8Array<ArrayBuffer>,
  decoded: DecodedRhythm,
  mapping: RhythmMapping,
  say: Place['say'],
): Promise<number> {
  const { patientCode } = await readCohort(actor);
  const published = await publishImport(decoded, mapping, {
    fileSha256,
    nextId: randomUUID,
    randomBytes,
    takenCodes: patientCode,
    load: ({ patients, batch }) => bulkLoadPatients(actor, patients, { action: 'lab.import', batch }),
  });
  if (published.kind !== 'written') {
    say(published.message);
    // The same file again is no fault: nothing changes, and the end is a good one.
    return published.kind === 'file-known' ? DONE : REFUSED;
  }
  say(
    `Written: ${published.patients} patients, ${published.readings} readings. Each patient is one case on the Outcomes page.`,
  );
  return DONE;
}

/** What the lab refuses is said in its own words; anything else is a defect and passes through. */
function answerOf(error: unknown, say: Place['say']): number {
  if (!(error instanceof ApplicationError) || error.kind === 'internal') throw error;
  say(error.message);
  return REFUSED;
}

function readOrder(args: readonly string[], folder: string): Order | string {
  const files: string[] = [];
  const options = new Map<string, string>();
  for (const arg of args) {
    const match = /^--(mapping|lab)=(.+)$/.exec(arg) ?? /^--(publish|accept-refused)$/.exec(arg);
    if (match) options.set(match[1] ?? '', match[2] ?? 'yes');
    else if (arg.startsWith('--'))
      return `There is no option ${arg.split('=')[0]?.slice(0, 40)} in this form.`;
    else files.push(arg);
  }
  const [file, another] = files;
  if (file === undefined || another !== undefined)
    return file === undefined ? 'Name the file to import.' : 'Name one file only.';
  const full = path.resolve(folder, file);
  return {
    file: full,
    mapping: path.resolve(folder, options.get('mapping') ?? `${full}.mapping.json`),
    publish: options.has('publish'),
    acceptRefused: options.has('accept-refused'),
    lab: options.get('lab'),
  };
}

async function readMapping(order: Order, say: Place['say']): Promise<RhythmMapping | null> {
  const bytes = await readBounded(order.mapping, MAX_MAPPING_CHARACTERS * 4);
  if ('fault' in bytes) {
    say(`The mapping ${order.mapping} ${bytes.fault}`);
    say('A mapping says how the columns are read. A complete one to begin with:');
    say(EXAMPLE_MAPPING);
    return null;
  }
  const parsed = parseRhythmMapping(new TextDecoder().decode(bytes));
  if (parsed.kind === 'mapping') return parsed.mapping;
  say(`The mapping ${order.mapping} cannot be used:`);
  for (const { field, message } of parsed.findings) say(`  ${field === '' ? '' : `${field}: `}${message}`);
  say('A complete one to begin with:');
  say(EXAMPLE_MAPPING);
  return null;
}

async function readBounded(file: string, most: number): Promise<Uint8Array | { readonly fault: string }> {
  try {
    const facts = await stat(file);
    if (!facts.isFile()) return { fault: 'is not a file.' };
    if (facts.size > most) return { fault: `is larger than ${most} bytes.` };
    return await readFile(file);
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? error.code : undefined;
    if (code === 'ENOENT') return { fault: 'does not exist.' };
    if (code === 'EACCES') return { fault: 'may not be read by this account.' };
    throw error;
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const folder = process.env.INIT_CWD ?? process.cwd();
  try {
    process.exitCode = await runImport(process.argv.slice(2), { folder, say: (line) => console.log(line) });
  } finally {
    await closeRecords();
  }
}
