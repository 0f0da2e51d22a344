import type { CalendarDay } from '../registry/calendar-day';
import { delimiterOf, readCsvRecords } from './csv-records';
import { type DeviceRow, readDeviceRow } from './device-cells';
import { type BurdenColumn, type DevicePlaces, type DeviceRole, placeDeviceColumns } from './device-columns';
import type { ImportFinding } from './import-finding';
import { showValue } from './value-shape';

/** A row of the file with its number, as a spreadsheet counts. */
export interface NumberedDeviceRow extends DeviceRow {
  readonly rowNumber: number;
}

export interface DecodedDeviceDays {
  readonly kind: 'decoded';
  readonly rowsRead: number;
  readonly blankRows: number;
  readonly burdenColumn: BurdenColumn;
  readonly rows: readonly NumberedDeviceRow[];
  /** Rows that say the very same as an earlier one: taken once, counted here. */
  readonly repeatedRows: number;
  readonly refusals: readonly ImportFinding[];
}

export type DeviceDecoding =
  | DecodedDeviceDays
  | { readonly kind: 'refused'; readonly finding: ImportFinding };

/**
 * Reads a CSV of device days: one row per patient and day. Pure; never throws: what cannot be read is a finding, by row or
 * for the whole file. Rows of one day that contradict each other are all refused, since nobody knows which is right.
 */
export function decodeDeviceCsv(bytes: Uint8Array, today: CalendarDay): DeviceDecoding {
  const records = readCsvRecords(bytes, delimiterOf(bytes));
  if (records.kind === 'refused') return records;
  const places = placeDeviceColumns(records.heads);
  if ('code' in places) return { kind: 'refused', finding: places };
  const identifiers = new Set(records.rows.map((cells) => cells[places.at.patient]?.trim() ?? ''));
  const refusals: ImportFinding[] = [];
  const rows: NumberedDeviceRow[] = [];
  let blankRows = 0;
  for (const [index, cells] of records.rows.entries()) {
    const rowNumber = index + 2;
    if (cells.every((cell) => cell.trim() === '')) {
      blankRows += 1;
      continue;
    }
    const read = readOne(cells, places, rowNumber, today, identifiers);
    if ('code' in read) refusals.push(read);
    else rows.push(read);
  }
  const settled = settleDays(rows);
  return {
    kind: 'decoded',
    rowsRead: records.rows.length - blankRows,
    blankRows,
    burdenColumn: places.burdenColumn,
    rows: settled.rows,
    repeatedRows: settled.repeatedRows,
    refusals: [...refusals, ...settled.refusals].sort((a, b) => (a.row ?? 0) - (b.row ?? 0)),
  };
}

function readOne(
  cells: readonly string[],
  places: DevicePlaces,
  rowNumber: number,
  today: CalendarDay,
  identifiers: ReadonlySet<string>,
): NumberedDeviceRow | ImportFinding {
  if (cells.length !== places.width) {
    return {
      code: 'cells-differ',
      row: rowNumber,
      column: null,
      value: null,
      reason: `The row has ${cells.length} cells, the first line has ${places.width}.`,
      cure: 'Check the delimiters and quotation marks of the row.',
    };
  }
  const cellOf = (role: DeviceRole) => cells[places.at[role]]?.trim() ?? '';
  const read = readDeviceRow(cellOf, places.burdenColumn, today);
  if ('row' in read) return { ...read.row, rowNumber };
  const { role, ...refusal } = read.refusal;
  return {
    ...refusal,
    row: rowNumber,
    column: role === 'burden' ? places.burdenColumn : role,
    value: showValue(cellOf(role), (cell) => identifiers.has(cell)),
  };
}

/** One row per patient and day: the same said twice counts once, and what contradicts itself is refused whole. */
function settleDays(rows: readonly NumberedDeviceRow[]) {
  const byDay = new Map<string, NumberedDeviceRow[]>();
  for (const row of rows) {
    const key = `${row.patientCode} ${row.day}`;
    const group = byDay.get(key);
    if (group) group.push(row);
    else byDay.set(key, [row]);
  }
  const taken: NumberedDeviceRow[] = [];
  const refusals: ImportFinding[] = [];
  for (const group of byDay.values()) {
    const [first, ...others] = group;
    if (first && others.every((other) => isSameValue(first, other))) taken.push(first);
    else
      refusals.push(
        ...group.map(({ rowNumber, patientCode, day }) => contradiction(rowNumber, patientCode, day, group)),
      );
  }
  return { rows: taken, refusals, repeatedRows: rows.length - taken.length - refusals.length };
}

const isSameValue = (a: DeviceRow, b: DeviceRow): boolean =>
  a.device === b.device &&
  a.burdenSeconds === b.burdenSeconds &&
  a.longestEpisodeSeconds === b.longestEpisodeSeconds;

function contradiction(
  row: number,
  patientCode: string,
  day: CalendarDay,
  group: readonly NumberedDeviceRow[],
): ImportFinding {
  const others = group.map(({ rowNumber }) => rowNumber).filter((rowNumber) => rowNumber !== row);
  return {
    code: 'two-values-for-a-day',
    row,
    column: 'day',
    value: day,
    reason: `Patient ${patientCode} has another value for this day in row ${others.join(', ')}.`,
    cure: 'Keep the row that is right.',
  };
}
