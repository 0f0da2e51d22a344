import { fileRefusal, type ImportFinding } from './import-finding';

/** How a file writes the burden of a day: the unit stands in the column's name. */
export const BURDEN_COLUMNS = {
  burden_seconds: { seconds: 1, most: 86_400, words: 'seconds' },
  burden_minutes: { seconds: 60, most: 1440, words: 'minutes' },
  burden_percent: { seconds: 864, most: 100, words: 'percent of the day' },
} as const;
export type BurdenColumn = keyof typeof BURDEN_COLUMNS;

export type DeviceRole = 'patient' | 'day' | 'device' | 'burden' | 'longest_episode_seconds';

/** Where each column stands; a longest episode of -1: the file gives none. */
export interface DevicePlaces {
  readonly width: number;
  readonly burdenColumn: BurdenColumn;
  readonly at: Readonly<Record<DeviceRole, number>>;
}

const NEEDED = ['patient', 'day', 'device'] as const;
const LIST = `patient, day, device, one of ${Object.keys(BURDEN_COLUMNS).join(', ')}, and longest_episode_seconds if known`;

/** Finds the columns by their names, in any order and letter case; every other column is refused, since nobody knows what stands in it. */
export function placeDeviceColumns(typedHeads: readonly string[]): DevicePlaces | ImportFinding {
  const heads = typedHeads.map((head) => head.toLowerCase());
  const twice = heads.find((head, index) => heads.indexOf(head) < index);
  const isOurs = (head: string) =>
    Object.hasOwn(BURDEN_COLUMNS, head) || [...NEEDED, 'longest_episode_seconds'].includes(head);
  const missing = NEEDED.find((name) => !heads.includes(name));
  if (missing) {
    return fileRefusal(
      'column-missing',
      `The column ${missing} is missing.`,
      `The columns are ${LIST}.`,
      missing,
    );
  }
  const burdens = burdenColumns().filter((name) => heads.includes(name));
  const [burdenColumn, another] = burdens;
  if (burdenColumn === undefined || another !== undefined) {
    const reason =
      burdenColumn === undefined ? 'No column gives the burden.' : 'More than one column gives the burden.';
    return fileRefusal(
      'burden-unit-missing',
      reason,
      `Name one column by its unit: ${Object.keys(BURDEN_COLUMNS).join(', ')}.`,
    );
  }
  const stranger = heads.findIndex((head) => !isOurs(head));
  if (stranger >= 0) {
    // Not quoted: a file without heads begins with a patient.
    return fileRefusal(
      'column-unknown',
      `Column ${stranger + 1} is none of ours.`,
      `The columns are ${LIST}.`,
    );
  }
  if (twice !== undefined) {
    return fileRefusal('column-twice', 'Two columns have this name.', 'Remove one of the two.', twice);
  }
  return {
    width: heads.length,
    burdenColumn,
    at: {
      patient: heads.indexOf('patient'),
      day: heads.indexOf('day'),
      device: heads.indexOf('device'),
      burden: heads.indexOf(burdenColumn),
      longest_episode_seconds: heads.indexOf('longest_episode_seconds'),
    },
  };
}

const burdenColumns = (): BurdenColumn[] => ['burden_seconds', 'burden_minutes', 'burden_percent'];
