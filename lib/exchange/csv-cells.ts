import Papa from 'papaparse';

/** Bounds of one reading: the first one that is crossed stops it. */
export interface CellBounds {
  readonly rows: number;
  /** Characters of one record as it is written: quotation marks, delimiters and line ends count. */
  readonly recordCharacters: number;
}

type Fault = 'quotes' | 'record-too-long' | 'too-many-rows';

export type CsvCells =
  | { readonly kind: 'cells'; readonly records: readonly (readonly string[])[] }
  | {
      readonly kind: 'fault';
      readonly fault: Fault;
      /** Line on which the record begins, counted from 1. */
      readonly line: number;
    };

/**
 * The library keeps one finding per stray mark of a record until the record ends, so a record that never ends would fill the
 * memory: it is handed blocks of this many longest records, and what stays unfinished is measured after each of them.
 */
const BLOCK_RECORDS = 16;

/**
 * Text of a CSV as records of cells (RFC 4180), any line end. A quoted cell that never closes, or that goes on behind its
 * closing mark, is a fault, since from there on nobody knows where rows begin; a mark inside a plain cell is just a
 * character of it. A line end at the end of the text begins no record.
 */
export function readCells(text: string, delimiter: string, bounds: CellBounds): CsvCells {
  const lines = linesOf(text);
  const chunkSize = BLOCK_RECORDS * bounds.recordCharacters;
  const records: string[][] = [];
  const faults: Fault[] = [];
  let handedOver = 0;
  let recordStart = 0;
  Papa.parse<string[]>(lines, {
    delimiter,
    newline: '\n',
    chunkSize,
    step: ({ data, errors, meta }, parser) => {
      // Behind the last line end.
      if (recordStart === lines.length) return;
      if (errors.some(({ type }) => type === 'Quotes')) faults.push('quotes');
      else if (meta.cursor - recordStart > bounds.recordCharacters) faults.push('record-too-long');
      else if (records.length === bounds.rows) faults.push('too-many-rows');
      else records.push(data);
      recordStart = meta.cursor;
      if (faults.length > 0) parser.abort();
    },
    chunk: (_block: Papa.ParseResult<string[]>, parser: Papa.Parser) => {
      handedOver = Math.min(handedOver + chunkSize, lines.length);
      if (handedOver - recordStart <= bounds.recordCharacters) return;
      faults.push('record-too-long');
      parser.abort();
    },
  });
  const [fault] = faults;
  return fault ? { kind: 'fault', fault, line: lineBehind(records) } : { kind: 'cells', records };
}

/** Line feeds alone, one behind each line: the library refuses blanks behind a closing mark where no line end follows. */
function linesOf(text: string): string {
  // The library drops a byte order mark too, and its positions would no longer be ours.
  const lines = text.replace(/^\uFEFF+/, '').replaceAll(/\r\n?/g, '\n');
  return lines === '' || lines.endsWith('\n') ? lines : `${lines}\n`;
}

/** The line that follows these records, the first one standing on line 1. */
function lineBehind(records: readonly (readonly string[])[]): number {
  return records.reduce((line, cells) => line + 1 + lineEndsIn(cells), 1);
}

const lineEndsIn = (cells: readonly string[]): number =>
  cells.reduce((sum, cell) => sum + cell.split('\n').length - 1, 0);
