import { isLongApplication } from './abatement';
import { readNumber } from './forms/entries';
import { segmentLabel } from './forms/lesion-labels';
import { isSegmentOf, kindOfStructure } from './lesion-vocabulary';
import { readMillivolt } from './millivolt';

/** One application of radiofrequency current. */
export interface RfApplication {
  readonly structure: string;
  readonly segment: string;
  /** Seconds since the first application, or since any other beginning of the clock. */
  readonly startSecond: number | null;
  readonly seconds: number;
  readonly powerW: number | null;
  readonly temperatureC: number | null;
  readonly impedanceStartOhm: number | null;
  readonly impedanceLowestOhm: number | null;
  readonly amplitudeBeforeUv: number | null;
  readonly amplitudeAfterUv: number | null;
}

/** Columns of a file of single applications: names of our own, in this order where a row is told without its heads. */
export const APPLICATION_COLUMNS = [
  'structure',
  'segment',
  'start_s',
  'seconds',
  'power_w',
  'temperature_c',
  'impedance_start_ohm',
  'impedance_lowest_ohm',
  'amplitude_before_mv',
  'amplitude_after_mv',
] as const;
export type ApplicationColumn = (typeof APPLICATION_COLUMNS)[number];
export const NEEDED_COLUMNS: readonly ApplicationColumn[] = ['structure', 'segment', 'seconds'];

export const MOST_APPLICATIONS = 2000;

export type ReadApplication =
  | { readonly kind: 'read'; readonly application: RfApplication }
  | {
      readonly kind: 'refused';
      readonly problems: readonly { readonly column: ApplicationColumn; readonly message: string }[];
    };

/** Impossible limits are those of the database. */
const NUMBERS = {
  start_s: { unit: 's', min: 0, max: 86_400, decimals: 0 },
  seconds: { unit: 's', min: 0, max: 3600, decimals: 1 },
  power_w: { unit: 'W', min: 0, max: 200, decimals: 1 },
  temperature_c: { unit: '°C', min: 0, max: 120, decimals: 1 },
  impedance_start_ohm: { unit: 'Ω', min: 0, max: 1000, decimals: 0 },
  impedance_lowest_ohm: { unit: 'Ω', min: 0, max: 1000, decimals: 0 },
} as const;

/** Reads one row of typed texts in the order of APPLICATION_COLUMNS ('' = not given): the application, or all that is wrong. */
export function readApplication(cells: readonly string[]): ReadApplication {
  const typed = (column: ApplicationColumn) => (cells[APPLICATION_COLUMNS.indexOf(column)] ?? '').trim();
  const problems: { column: ApplicationColumn; message: string }[] = [];
  const number = (column: keyof typeof NUMBERS): number | null => {
    const reading = readNumber(typed(column), { ...NUMBERS[column], label: column });
    if ('value' in reading) return reading.value;
    problems.push({ column, message: reading.problem });
    return null;
  };
  const amplitude = (column: ApplicationColumn): number | null => {
    if (typed(column) === '') return null;
    const reading = readMillivolt(typed(column));
    if ('uv' in reading) return reading.uv;
    problems.push({ column, message: reading.problem });
    return null;
  };
  const [structure, segment] = [typed('structure'), typed('segment') || 'line'];
  if (kindOfStructure(structure) === null)
    problems.push({ column: 'structure', message: 'is no ring or line of the vocabulary.' });
  else if (!isSegmentOf(structure, segment))
    problems.push({ column: 'segment', message: 'is no segment of this ring or line.' });
  const seconds = number('seconds');
  if (seconds === null && typed('seconds') === '')
    problems.push({ column: 'seconds', message: 'is missing.' });
  const application = {
    structure,
    segment,
    startSecond: number('start_s'),
    seconds: seconds ?? 0,
    powerW: number('power_w'),
    temperatureC: number('temperature_c'),
    impedanceStartOhm: number('impedance_start_ohm'),
    impedanceLowestOhm: number('impedance_lowest_ohm'),
    amplitudeBeforeUv: amplitude('amplitude_before_mv'),
    amplitudeAfterUv: amplitude('amplitude_after_mv'),
  };
  return problems.length > 0 ? { kind: 'refused', problems } : { kind: 'read', application };
}

/** What the applications of one segment add up to. */
export interface SegmentApplications {
  readonly structure: string;
  readonly segment: string;
  readonly applications: number;
  readonly totalSeconds: number;
  readonly longestSeconds: number;
  /** Before the first application that has one, and after the last that has one. */
  readonly amplitudeBeforeUv: number | null;
  readonly amplitudeAfterUv: number | null;
}

const tenths = (seconds: number): number => Math.round(seconds * 10);

/** Adds the applications up by segment, in the order in which the segments first appear. Rows are in the order of time. */
export function applicationsBySegment(applications: readonly RfApplication[]): SegmentApplications[] {
  const groups = new Map<string, RfApplication[]>();
  for (const application of applications) {
    const key = `${application.structure} ${application.segment}`;
    groups.set(key, [...(groups.get(key) ?? []), application]);
  }
  return [...groups.values()].map((own) => ({
    structure: own[0].structure,
    segment: own[0].segment,
    applications: own.length,
    totalSeconds: Math.round(own.reduce((sum, { seconds }) => sum + tenths(seconds), 0) / 10),
    longestSeconds: Math.round(Math.max(...own.map(({ seconds }) => seconds))),
    amplitudeBeforeUv: own.find((one) => one.amplitudeBeforeUv !== null)?.amplitudeBeforeUv ?? null,
    amplitudeAfterUv: own.findLast((one) => one.amplitudeAfterUv !== null)?.amplitudeAfterUv ?? null,
  }));
}

/** '212 applications, 98.4 min in all, the longest 74 s'. */
export function totalsInWords(applications: readonly RfApplication[]): string {
  const all = applications.reduce((sum, { seconds }) => sum + tenths(seconds), 0);
  const longest = Math.max(0, ...applications.map(({ seconds }) => seconds));
  const count = applications.length === 1 ? '1 application' : `${applications.length} applications`;
  return `${count}, ${(all / 600).toFixed(1)} min in all, the longest ${longest} s`;
}

/**
 * Plausible settings (from memory unless marked): 10 to 50 W, or 90 W for 4 s; at most 45 °C at an irrigated tip; a fall of
 * the impedance by 10 Ω or more. An application longer than 60 s is worth a look (common practice, no source).
 */
const PLAUSIBLE = {
  leastW: 10,
  mostW: 50,
  veryHighW: 90,
  veryHighS: 4,
  mostC: 45,
  leastFallOhm: 10,
} as const;

/** What a person should look at again in single applications: told, never blocked. Numbers count from 1. */
export function applicationFlags(applications: readonly RfApplication[]): string[] {
  return applications.flatMap((application, index) => {
    const where = `Application ${index + 1}, ${segmentLabel(application.structure, application.segment)}`;
    return oddities(application).map((words) => `${where}: ${words}.`);
  });
}

function oddities(application: RfApplication): string[] {
  const { seconds, powerW, temperatureC, impedanceStartOhm, impedanceLowestOhm } = application;
  const isVeryHigh = powerW !== null && powerW <= PLAUSIBLE.veryHighW && seconds <= PLAUSIBLE.veryHighS;
  const fall =
    impedanceStartOhm === null || impedanceLowestOhm === null ? null : impedanceStartOhm - impedanceLowestOhm;
  return [
    ...(isLongApplication('radiofrequency', seconds) ? [`${seconds} s (longer than 60 s)`] : []),
    ...(powerW !== null && powerW < PLAUSIBLE.leastW
      ? [`${powerW} W (less than ${PLAUSIBLE.leastW} W)`]
      : []),
    ...(powerW !== null && powerW > PLAUSIBLE.mostW && !isVeryHigh
      ? [`${powerW} W (more than ${PLAUSIBLE.mostW} W)`]
      : []),
    ...(temperatureC !== null && temperatureC > PLAUSIBLE.mostC
      ? [`${temperatureC} °C (more than ${PLAUSIBLE.mostC} °C)`]
      : []),
    ...(fall !== null && fall < 0
      ? [`the impedance rose from ${impedanceStartOhm} to ${impedanceLowestOhm} Ω`]
      : []),
    ...(fall !== null && fall >= 0 && fall < PLAUSIBLE.leastFallOhm
      ? [`the impedance fell by ${fall} Ω (less than ${PLAUSIBLE.leastFallOhm} Ω)`]
      : []),
  ];
}

/** What checking a file of applications answers to the form. */
export type ApplicationFileAnswer =
  | { readonly kind: 'unauthenticated' }
  | { readonly kind: 'refused'; readonly findings: readonly string[]; readonly more: number }
  | { readonly kind: 'read'; readonly rows: readonly (readonly string[])[] };

/** A larger file is no record of one procedure. */
export const MOST_FILE_BYTES = 400_000;
