import Papa from 'papaparse';

/** Bounds of one reading: the first one that is crossed stops it. */
export interface CellBounds {
  readonly rows: number;
  /** Characters of one record, quotes and delimiters left out. */
  readonly recordCharacters: number;
}

export type CsvCells =
  | { readonly kind: 'cells'; readonly records: readonly (readonly string[])[] }
  | {
      readonly kind: 'fault';
      readonly fault: 'quotes' | 'record-too-long' | 'too-many-rows';
      /** Number of the record, counted from 1: its line where no cell holds line ends. */
      readonly line: number;
    };

/**
 * Text of a CSV as records of cells (RFC 4180), any line end. A quoted cell that never closes, or that goes on behind its
 * closing mark, is a fault, since from there on nobody knows where rows begin; a mark inside a plain cell is just a
 * character of it. A line end at the end of the text begins no record.
 */
export function readCells(text: string, delimiter: string, bounds: CellBounds): CsvCells {
  const { data, errors } = Papa.parse<string[]>(text.replaceAll(/\r\n?/g, '\n'), {
    delimiter,
    newline: '\n',
    preview: bounds.rows + 1,
  });
  const [broken] = errors.filter((error) => error.type === 'Quotes');
  if (broken) return { kind: 'fault', fault: 'quotes', line: (broken.row ?? 0) + 1 };
  const records = endsWithEmptyLine(data) ? data.slice(0, -1) : data;
  if (records.length > bounds.rows) return { kind: 'fault', fault: 'too-many-rows', line: bounds.rows + 1 };
  const long = records.findIndex((cells) => lengthOf(cells) > bounds.recordCharacters);
  if (long >= 0) return { kind: 'fault', fault: 'record-too-long', line: long + 1 };
  return { kind: 'cells', records };
}

function endsWithEmptyLine(records: readonly string[][]): boolean {
  const last = records.at(-1);
  return last?.length === 1 && last[0] === '';
}

const lengthOf = (cells: readonly string[]): number => cells.reduce((sum, cell) => sum + cell.length, 0);
