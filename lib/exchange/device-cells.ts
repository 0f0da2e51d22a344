import { type CalendarDay, isCalendarDay } from '../registry/calendar-day';
import { DEVICE_KINDS, type DeviceDay, type DeviceKind, SECONDS_PER_DAY } from '../registry/device-days';
import { normalisePatientCode } from '../registry/patient-code';
import { BURDEN_COLUMNS, type BurdenColumn, type DeviceRole } from './device-columns';
import type { RefusalCode } from './import-finding';

/** A cell that cannot be taken: which column, why, how to mend it. */
interface DeviceRefusal {
  readonly role: DeviceRole;
  readonly code: RefusalCode;
  readonly reason: string;
  readonly cure: string;
}

/** One row of the file, read. */
export interface DeviceRow extends DeviceDay {
  readonly patientCode: string;
  /** The burden was raised to the longest episode, which its rounding had hidden. */
  readonly isRaised: boolean;
}

export type ReadDeviceRow = { readonly row: DeviceRow } | { readonly refusal: DeviceRefusal };

const refuse = (
  role: DeviceRole,
  code: RefusalCode,
  reason: string,
  cure: string,
): { refusal: DeviceRefusal } => ({
  refusal: { role, code, reason, cure },
});

/** What a row says, or its first refusal. `today` bounds the day: nobody is recorded tomorrow. */
export function readDeviceRow(
  cell: (role: DeviceRole) => string,
  column: BurdenColumn,
  today: CalendarDay,
): ReadDeviceRow {
  const patientCode = normalisePatientCode(cell('patient'));
  if (patientCode === null) {
    return refuse(
      'patient',
      'patient-code-wrong',
      'It is not a patient code of a lab: its check character does not fit.',
      'Write the code as the case page shows it. A hospital number is never read from a file.',
    );
  }
  const day = cell('day');
  if (!isCalendarDay(day)) {
    return refuse('day', 'day-not-a-day', 'It is not a day of the calendar.', 'Write it as YYYY-MM-DD.');
  }
  if (day > today) {
    return refuse('day', 'day-in-the-future', `It lies after today, ${today}.`, 'Mend the day.');
  }
  const device = deviceOf(cell('device'));
  if (device === null) {
    const known = DEVICE_KINDS.map((term) => term.code).join(', ');
    return refuse('device', 'device-unknown', 'This kind of device is not known.', `Write one of ${known}.`);
  }
  const amounts = readAmounts(cell('burden'), cell('longest_episode_seconds'), column);
  return 'refusal' in amounts ? amounts : { row: { patientCode, day, device, ...amounts } };
}

function deviceOf(cell: string): DeviceKind | null {
  const plain = cell.toLowerCase().replaceAll(/[\s_]+/g, '-');
  return DEVICE_KINDS.find(({ code }) => code === plain)?.code ?? null;
}

const NUMBER = /^\d{1,6}(?:[.,](\d{1,6}))?$/;
const WHOLE = /^\d{1,6}$/;

type Amounts = Pick<DeviceRow, 'burdenSeconds' | 'longestEpisodeSeconds' | 'isRaised'>;

/**
 * The burden in whole seconds. Devices print it rounded (0.1 % is anything from 43 to 129 s): a longest episode that is over
 * it by no more than this rounding raises it, one that is over it by more contradicts it.
 */
function readAmounts(
  typedBurden: string,
  typedLongest: string,
  column: BurdenColumn,
): Amounts | { refusal: DeviceRefusal } {
  const unit = BURDEN_COLUMNS[column];
  const match = NUMBER.exec(typedBurden);
  if (!match) {
    return refuse(
      'burden',
      'burden-not-a-number',
      typedBurden === '' ? 'The burden is blank.' : 'The burden is not a number.',
      `Write it in ${unit.words}, 0 for a day without arrhythmia; leave out the row of a day that was not recorded.`,
    );
  }
  const burden = Number(typedBurden.replace(',', '.'));
  if (burden > unit.most) {
    return refuse(
      'burden',
      'burden-over-a-day',
      `A day has ${unit.most} ${unit.words === 'percent of the day' ? 'percent' : unit.words}.`,
      'Check the unit in the name of the column.',
    );
  }
  const burdenSeconds = Math.min(SECONDS_PER_DAY, Math.round(burden * unit.seconds));
  if (typedLongest === '') return { burdenSeconds, longestEpisodeSeconds: null, isRaised: false };
  const longest = Number(typedLongest);
  if (!WHOLE.test(typedLongest) || longest > SECONDS_PER_DAY) {
    return refuse(
      'longest_episode_seconds',
      'longest-not-a-number',
      'It is not a whole number of seconds from 0 to 86400.',
      'Give the part of the episode that lies within the day, or leave the cell blank.',
    );
  }
  const rounding = (unit.seconds * 10 ** -(match[1]?.length ?? 0)) / 2;
  if (longest > burdenSeconds + Math.max(1, Math.ceil(rounding)) || (longest === 0 && burdenSeconds > 0)) {
    return refuse(
      'longest_episode_seconds',
      'longest-over-the-burden',
      `The longest episode of ${longest} s does not fit the burden of the day, ${burdenSeconds} s.`,
      'Mend one of the two.',
    );
  }
  return {
    burdenSeconds: Math.max(burdenSeconds, longest),
    longestEpisodeSeconds: longest === 0 ? null : longest,
    isRaised: longest > burdenSeconds,
  };
}
