import type { CalendarDay } from '../registry/calendar-day';
import type { DeviceDay } from '../registry/device-days';
import type { DecodedDeviceDays, NumberedDeviceRow } from './device-csv';
import type { ImportFinding } from './import-finding';

/** What the lab knows of a patient that the file names. */
export interface KnownDevicePatient {
  readonly patientId: string;
  readonly code: string;
  readonly version: number;
  readonly birthYear: number;
  readonly firstPerformedOn: string | null;
  readonly diedOn: string | null;
  readonly consentWithdrawnOn: string | null;
  readonly isErased: boolean;
  readonly storedDays: readonly DeviceDay[];
}

/** What is to be done with days that are stored with other values: nobody but the person can know which are right. */
export type OnDifference = 'keep' | 'replace';

interface PlannedPatient {
  readonly patientId: string;
  readonly code: string;
  readonly version: number;
  readonly adds: readonly DeviceDay[];
  /** Days stored with other values. */
  readonly differing: readonly { readonly before: DeviceDay; readonly after: DeviceDay }[];
}

export interface DevicePlan {
  /** Patients with anything to add or to replace, in the order of the file. */
  readonly patients: readonly PlannedPatient[];
  /** Days that are stored already with the very same values. */
  readonly daysKnown: number;
  /** Days before the first procedure among those that are accepted: kept as baseline. */
  readonly baselineDays: number;
  readonly refusals: readonly ImportFinding[];
  /** One finding per day that is stored with other values. */
  readonly differences: readonly ImportFinding[];
}

/** Joins a decoded file with what the lab knows. Pure. */
export function planDeviceImport(
  decoded: DecodedDeviceDays,
  known: readonly KnownDevicePatient[],
): DevicePlan {
  const byCode = new Map(known.map((patient) => [patient.code, patient]));
  const refusals: ImportFinding[] = [...decoded.refusals];
  const differences: ImportFinding[] = [];
  const patients: PlannedPatient[] = [];
  let daysKnown = 0;
  let baselineDays = 0;
  for (const [code, rows] of grouped(decoded.rows)) {
    const patient = byCode.get(code);
    const accepted = rows.filter((row) => {
      const refusal = refusalOf(row, patient);
      if (refusal) refusals.push(refusal);
      return refusal === null;
    });
    if (!patient) continue;
    baselineDays += accepted.filter(({ day }) => isBaseline(day, patient)).length;
    const stored = new Map(patient.storedDays.map((one) => [one.day, one]));
    const differing = accepted.flatMap((row) => {
      const before = stored.get(row.day);
      return before && !isSame(before, row) ? [{ before, after: dayOf(row), row }] : [];
    });
    differences.push(...differing.map(({ before, row }) => difference(before, row)));
    const adds = accepted.filter(({ day }) => !stored.has(day)).map(dayOf);
    daysKnown += accepted.length - adds.length - differing.length;
    if (adds.length === 0 && differing.length === 0) continue;
    const { patientId, version } = patient;
    patients.push({
      patientId,
      code,
      version,
      adds,
      differing: differing.map(({ before, after }) => ({ before, after })),
    });
  }
  const byRow = (a: ImportFinding, b: ImportFinding) => (a.row ?? 0) - (b.row ?? 0);
  return {
    patients,
    daysKnown,
    baselineDays,
    refusals: refusals.sort(byRow),
    differences: differences.sort(byRow),
  };
}

function grouped(rows: readonly NumberedDeviceRow[]): Map<string, NumberedDeviceRow[]> {
  const groups = new Map<string, NumberedDeviceRow[]>();
  for (const row of rows) {
    const group = groups.get(row.patientCode);
    if (group) group.push(row);
    else groups.set(row.patientCode, [row]);
  }
  return groups;
}

const dayOf = ({ day, device, burdenSeconds, longestEpisodeSeconds }: NumberedDeviceRow): DeviceDay => ({
  day,
  device,
  burdenSeconds,
  longestEpisodeSeconds,
});

const isSame = (a: DeviceDay, b: DeviceDay): boolean =>
  a.device === b.device &&
  a.burdenSeconds === b.burdenSeconds &&
  a.longestEpisodeSeconds === b.longestEpisodeSeconds;

const isBaseline = (day: CalendarDay, { firstPerformedOn }: KnownDevicePatient): boolean =>
  firstPerformedOn !== null && day < firstPerformedOn;

type Why = Pick<ImportFinding, 'code' | 'reason' | 'cure'>;

function refusalOf(row: NumberedDeviceRow, patient: KnownDevicePatient | undefined): ImportFinding | null {
  const about = (column: string, value: string, why: Why): ImportFinding => ({
    ...why,
    row: row.rowNumber,
    column,
    value,
  });
  const { patientCode, day } = row;
  if (!patient) {
    return about('patient', patientCode, {
      code: 'patient-unknown',
      reason: 'No patient of this lab has this code.',
      cure: 'Check the code, or register the patient first.',
    });
  }
  if (patient.isErased) {
    return about('patient', patientCode, {
      code: 'patient-erased',
      reason: 'This patient was erased; nothing can be added.',
      cure: 'Leave the rows out.',
    });
  }
  const { birthYear, diedOn, consentWithdrawnOn } = patient;
  if (Number(day.slice(0, 4)) < birthYear) {
    return about('day', day, {
      code: 'day-before-birth',
      reason: `The patient was born in ${birthYear}.`,
      cure: 'Mend the year of the day.',
    });
  }
  if (diedOn !== null && day > diedOn) {
    return about('day', day, {
      code: 'day-after-death',
      reason: `The patient died on ${diedOn}.`,
      cure: 'Mend the day or the patient code, or the day of death on the patient’s page.',
    });
  }
  if (consentWithdrawnOn !== null && day > consentWithdrawnOn) {
    return about('day', day, {
      code: 'day-after-withdrawal',
      reason: `Consent was withdrawn on ${consentWithdrawnOn}; later days may not be kept.`,
      cure: 'Leave the rows out.',
    });
  }
  return null;
}

function difference(before: DeviceDay, row: NumberedDeviceRow): ImportFinding {
  const told = ({ burdenSeconds, longestEpisodeSeconds }: DeviceDay) =>
    `${burdenSeconds} s, longest ${longestEpisodeSeconds === null ? 'not given' : `${longestEpisodeSeconds} s`}`;
  const device = before.device === row.device ? '' : ` (${before.device}, in the file ${row.device})`;
  return {
    code: 'stored-differently',
    row: row.rowNumber,
    column: 'day',
    value: row.day,
    reason: `Patient ${row.patientCode}: stored is ${told(before)}; the file says ${told(row)}${device}.`,
    cure: 'Keep what is stored, or replace it: the trail keeps both.',
  };
}
