import { addDays, type CalendarDay } from '../registry/calendar-day';
import { labelOf, RHYTHMS } from '../registry/vocabulary';
import { type ImportFinding, sayFinding } from './import-finding';
import type { DecodedRhythm } from './rhythm-csv';
import type { RhythmMapping } from './rhythm-mapping';

export interface NamedCount {
  readonly name: string;
  readonly count: number;
}

/** What an import would write and what it refuses. Holds no patient of the file: safe to print, send and keep. */
export interface RhythmReport {
  readonly source: string;
  readonly dayZero: CalendarDay;
  readonly rowsRead: number;
  readonly blankRows: number;
  readonly patients: number;
  readonly readings: number;
  readonly readingsByRhythm: readonly NamedCount[];
  readonly patientsByGroup: readonly NamedCount[];
  /** Days since day 0 of the first and last reading, or null without readings. */
  readonly days: { readonly first: number; readonly last: number } | null;
  readonly patientsLeftOut: number;
  readonly refusals: readonly ImportFinding[];
  /** How the file was read, and everything that was taken from the mapping instead of the file. */
  readonly notes: readonly string[];
}

export function reportOf(decoded: DecodedRhythm, mapping: RhythmMapping): RhythmReport {
  const readings = decoded.patients.flatMap((patient) => patient.readings);
  return {
    source: mapping.source,
    dayZero: mapping.dayZero,
    rowsRead: decoded.rowsRead,
    blankRows: decoded.blankRows,
    patients: decoded.patients.length,
    readings: readings.length,
    readingsByRhythm: countBy(readings, (reading) => labelOf(RHYTHMS, reading.rhythm)),
    patientsByGroup: countBy(decoded.patients, (patient) => patient.cohortTag ?? 'no group'),
    days: daysOf(readings.map((reading) => reading.day)),
    patientsLeftOut: decoded.patientsLeftOut,
    refusals: decoded.refusals,
    notes: notesOf(decoded, mapping),
  };
}

function countBy<T>(items: readonly T[], nameOf: (item: T) => string): NamedCount[] {
  const counts = new Map<string, number>();
  for (const item of items) counts.set(nameOf(item), (counts.get(nameOf(item)) ?? 0) + 1);
  return [...counts].map(([name, count]) => ({ name, count })).sort((a, b) => (a.name < b.name ? -1 : 1));
}

function daysOf(days: readonly number[]): RhythmReport['days'] {
  if (days.length === 0) return null;
  return days.reduce((span, day) => ({ first: Math.min(span.first, day), last: Math.max(span.last, day) }), {
    first: days[0],
    last: days[0],
  });
}

const counted = (count: number, one: string, many: string): string => `${count} ${count === 1 ? one : many}`;

function notesOf({ patients, repeatedReadings }: DecodedRhythm, mapping: RhythmMapping): string[] {
  const { time } = mapping;
  const having = (test: (patient: (typeof patients)[number]) => boolean): number =>
    patients.filter(test).length;
  const unit = time.unit === 'months' ? `months of ${time.daysPerMonth} days` : 'days';
  const rule = time.rounding === 'nearest' ? 'rounded to the nearest (a half up)' : 'rounded down';
  const fromAge = having((patient) => patient.birthYearFrom === 'age');
  const fromMapping = having((patient) => patient.birthYearFrom === 'mapping');
  const noSex = having((patient) => patient.sex === 'unknown');
  const noGroup = mapping.columns.group === undefined ? 0 : having((patient) => patient.cohortTag === null);
  return [
    `Times are ${unit}, ${rule} to whole days. Every procedure is entered on day 0, ${mapping.dayZero}.`,
    `A reading counts as a whole tracing (${mapping.reading.kind}), known from a report.`,
    ...(fromAge > 0
      ? [
          `${counted(fromAge, 'birth year is', 'birth years are')} worked out from the age and may be off by one; the age itself is kept.`,
        ]
      : []),
    ...(fromMapping > 0
      ? [
          `${counted(fromMapping, 'patient takes', 'patients take')} the birth year ${mapping.birthYearWhenMissing} from the mapping: the file gives none.`,
        ]
      : []),
    ...(noSex > 0 ? [`For ${counted(noSex, 'patient', 'patients')} the sex is not known.`] : []),
    ...(noGroup > 0 ? [`${counted(noGroup, 'patient has', 'patients have')} no group.`] : []),
    ...(repeatedReadings > 0
      ? [
          `${counted(repeatedReadings, 'reading repeats', 'readings repeat')} another of the same patient, time and rhythm; all are kept.`,
        ]
      : []),
  ];
}

/** The report as lines of text, every refused row in its own line. */
export function sayReport(report: RhythmReport): string[] {
  const list = (counts: readonly NamedCount[]): string =>
    counts.map(({ name, count }) => `${name}: ${count}`).join('; ');
  const { days } = report;
  return [
    `Source: ${report.source}`,
    `Rows read: ${report.rowsRead}${report.blankRows > 0 ? ` (and ${report.blankRows} blank)` : ''}`,
    `Patients: ${report.patients}${report.patientsByGroup.length > 0 ? ` (${list(report.patientsByGroup)})` : ''}`,
    `Readings: ${report.readings}${report.readings > 0 ? ` (${list(report.readingsByRhythm)})` : ''}`,
    ...(days
      ? [
          `Days: ${days.first} to ${days.last} after day 0 (${addDays(report.dayZero, days.first)} to ${addDays(report.dayZero, days.last)})`,
        ]
      : []),
    `Refused rows: ${report.refusals.length}`,
    ...(report.patientsLeftOut > 0 ? [`Patients left out whole: ${report.patientsLeftOut}`] : []),
    ...report.refusals.map((finding) => `  ${sayFinding(finding)}`),
    ...report.notes.map((note) => `Note: ${note}`),
  ];
}
