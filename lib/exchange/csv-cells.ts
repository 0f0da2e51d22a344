/** Bounds of one reading: the first one that is crossed stops it. */
export interface CellBounds {
  readonly rows: number;
  /** Characters of one record, line ends inside quotes included. */
  readonly recordCharacters: number;
}

export type CsvCells =
  | { readonly kind: 'cells'; readonly records: readonly (readonly string[])[] }
  | {
      readonly kind: 'fault';
      readonly fault: 'quotes' | 'record-too-long' | 'too-many-rows';
      readonly line: number;
    };

const QUOTE = 34;
const LINE_FEED = 10;
const CARRIAGE_RETURN = 13;

/**
 * Text of a CSV as records of cells (RFC 4180): a quoted cell may hold delimiters, line ends and doubled quotes; a quote
 * anywhere else is a fault, since from there on nobody knows where rows begin. Any line end is taken. An empty line is one
 * empty cell; a line end at the end of the text begins no record. Reads every character once: time grows with length alone.
 */
export function readCells(text: string, delimiter: string, bounds: CellBounds): CsvCells {
  const reader = new CellReader(text, delimiter.charCodeAt(0), bounds);
  return reader.read();
}

class CellReader {
  private place = 0;
  private line = 1;
  private recordStart = 0;

  constructor(
    private readonly text: string,
    private readonly delimiter: number,
    private readonly bounds: CellBounds,
  ) {}

  read(): CsvCells {
    const records: string[][] = [];
    while (this.place < this.text.length) {
      if (records.length === this.bounds.rows) return this.fault('too-many-rows');
      this.recordStart = this.place;
      const record = this.readRecord();
      if ('kind' in record) return record;
      records.push(record);
    }
    return { kind: 'cells', records };
  }

  private readRecord(): string[] | (CsvCells & { readonly kind: 'fault' }) {
    const { text } = this;
    const cells: string[] = [];
    for (;;) {
      const cell = text.charCodeAt(this.place) === QUOTE ? this.readQuoted() : this.readPlain();
      if (this.place - this.recordStart > this.bounds.recordCharacters) return this.fault('record-too-long');
      const next = this.place < text.length ? text.charCodeAt(this.place) : LINE_FEED;
      if (cell === null || (next !== this.delimiter && !isLineEnd(next))) return this.fault('quotes');
      cells.push(cell);
      this.place += 1;
      if (next === this.delimiter) continue;
      if (next === CARRIAGE_RETURN && text.charCodeAt(this.place) === LINE_FEED) this.place += 1;
      this.line += 1;
      return cells;
    }
  }

  private readPlain(): string {
    const start = this.place;
    for (; this.place < this.text.length; this.place += 1) {
      const code = this.text.charCodeAt(this.place);
      if (code === this.delimiter || code === QUOTE || isLineEnd(code)) break;
    }
    return this.text.slice(start, this.place);
  }

  /** The cell behind an opening quote, or null when it never closes. */
  private readQuoted(): string | null {
    const { text } = this;
    const start = this.place + 1;
    let close = text.indexOf('"', start);
    while (close !== -1 && text.charCodeAt(close + 1) === QUOTE) close = text.indexOf('"', close + 2);
    if (close === -1) return null;
    this.place = close + 1;
    const raw = text.slice(start, close);
    this.line += raw.split('\n').length - 1;
    return raw.replaceAll('""', '"');
  }

  private fault(
    fault: 'quotes' | 'record-too-long' | 'too-many-rows',
  ): CsvCells & { readonly kind: 'fault' } {
    return { kind: 'fault', fault, line: this.line };
  }
}

const isLineEnd = (code: number): boolean => code === LINE_FEED || code === CARRIAGE_RETURN;
