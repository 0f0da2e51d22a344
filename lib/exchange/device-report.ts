import { toEpochDay } from '../registry/calendar-day';
import type { DeviceDay } from '../registry/device-days';
import { BURDEN_COLUMNS } from './device-columns';
import type { DecodedDeviceDays } from './device-csv';
import type { DevicePlan } from './device-plan';
import { type ImportFinding, sayFinding } from './import-finding';

/** What publishing a file of device days would write. */
export interface DeviceReport {
  readonly rowsRead: number;
  /** 'minutes'. */
  readonly unit: string;
  readonly patients: number;
  readonly daysToAdd: number;
  readonly daysKnown: number;
  readonly daysDiffering: number;
  /** Among the days to add. */
  readonly withArrhythmia: number;
  readonly longestNotGiven: number;
  readonly span: { readonly firstDay: string; readonly lastDay: string } | null;
  readonly refusals: readonly ImportFinding[];
  readonly differences: readonly ImportFinding[];
  readonly notes: readonly string[];
}

export function deviceReportOf(decoded: DecodedDeviceDays, plan: DevicePlan): DeviceReport {
  const adds = plan.patients.flatMap((patient) => patient.adds);
  const withArrhythmia = adds.filter(({ burdenSeconds }) => burdenSeconds > 0);
  const ordered = adds.map(({ day }) => day).sort();
  const [firstDay] = ordered;
  const lastDay = ordered.at(-1);
  const notGiven = withArrhythmia.filter(
    ({ longestEpisodeSeconds }) => longestEpisodeSeconds === null,
  ).length;
  return {
    rowsRead: decoded.rowsRead,
    unit: BURDEN_COLUMNS[decoded.burdenColumn].words,
    patients: plan.patients.length,
    daysToAdd: adds.length,
    daysKnown: plan.daysKnown,
    daysDiffering: plan.differences.length,
    withArrhythmia: withArrhythmia.length,
    longestNotGiven: notGiven,
    span: firstDay !== undefined && lastDay !== undefined ? { firstDay, lastDay } : null,
    refusals: plan.refusals,
    differences: plan.differences,
    notes: notesOf(decoded, plan, notGiven, adds),
  };
}

/** '1 day', '401 days'. */
export const counted = (count: number, one: string, many: string): string =>
  `${count.toLocaleString('en-GB')} ${count === 1 ? one : many}`;

function notesOf(
  decoded: DecodedDeviceDays,
  plan: DevicePlan,
  notGiven: number,
  adds: readonly DeviceDay[],
): string[] {
  const raised = decoded.rows.filter(({ isRaised }) => isRaised).length;
  const gaps = gapDays(decoded);
  return [
    ...(notGiven > 0
      ? [
          `${counted(notGiven, 'day', 'days')} with arrhythmia without a longest episode: it is at most the burden of the day, and the burden stands for it. A recurrence can so be found too early, never too late.`,
        ]
      : []),
    ...(plan.baselineDays > 0
      ? [
          `${counted(plan.baselineDays, 'day lies', 'days lie')} before the patient’s first procedure: kept as baseline, never counted as recurrence.`,
        ]
      : []),
    ...(gaps > 0
      ? [
          `${counted(gaps, 'day', 'days')} between the first and the last day of a patient ${gaps === 1 ? 'is' : 'are'} not in the file: taken as not recorded.`,
        ]
      : []),
    ...(raised > 0
      ? [
          `${counted(raised, 'burden was', 'burdens were')} rounded to less than the longest episode: raised to it.`,
        ]
      : []),
    ...(decoded.repeatedRows > 0
      ? [`${counted(decoded.repeatedRows, 'row repeats', 'rows repeat')} another word for word: taken once.`]
      : []),
    ...(decoded.burdenColumn === 'burden_seconds' || adds.length === 0
      ? []
      : [
          'A burden in minutes or percent is rounded: 0 can hide an arrhythmia shorter than half of its last digit.',
        ]),
  ];
}

/** Days between the first and the last day of a patient that the file does not hold. */
function gapDays({ rows }: DecodedDeviceDays): number {
  const spans = new Map<string, { first: number; last: number; days: number }>();
  for (const { patientCode, day } of rows) {
    const at = toEpochDay(day);
    const span = spans.get(patientCode);
    if (!span) spans.set(patientCode, { first: at, last: at, days: 1 });
    else {
      span.first = Math.min(span.first, at);
      span.last = Math.max(span.last, at);
      span.days += 1;
    }
  }
  return [...spans.values()].reduce((sum, { first, last, days }) => sum + last - first + 1 - days, 0);
}

/** The report as lines of text, every finding in its own line. */
export function sayDeviceReport(report: DeviceReport): string[] {
  const { span } = report;
  return [
    `Rows read: ${report.rowsRead}, burden in ${report.unit}`,
    `Patients with something to write: ${report.patients}`,
    `Days to add: ${report.daysToAdd}${span ? ` (${span.firstDay} to ${span.lastDay})` : ''}, ${report.withArrhythmia} with arrhythmia`,
    `Days stored already: ${report.daysKnown}`,
    `Days stored with other values: ${report.daysDiffering}`,
    `Refused rows: ${report.refusals.length}`,
    ...[...report.refusals, ...report.differences].map((finding) => `  ${sayFinding(finding)}`),
    ...report.notes.map((note) => `Note: ${note}`),
  ];
}
