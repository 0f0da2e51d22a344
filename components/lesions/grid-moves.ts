import { type ElementField, fieldsOf } from '@/lib/registry/forms/lesion-fields';
import { kindOfStructure, segmentsOf } from '@/lib/registry/lesion-vocabulary';

/** One row of the table: a segment, a line, or (without a segment) a whole ring. */
export interface GridRow {
  readonly structure: string;
  readonly segment: string | null;
  readonly fields: readonly ElementField[];
}

/** A cell of the table. */
export interface Cell {
  readonly row: number;
  readonly field: ElementField;
}

export type Direction = 'up' | 'down' | 'left' | 'right' | 'next-structure' | 'previous-structure';

/** Rows in the order of the table: each ring begins with the row of the whole ring. */
export function gridRows(structures: readonly string[], isRepeat: boolean): GridRow[] {
  return structures.flatMap((structure) => {
    const fields = fieldsOf(structure, isRepeat);
    const rows = segmentsOf(structure).map(({ code }): GridRow => ({ structure, segment: code, fields }));
    if (kindOfStructure(structure) === 'line') return rows;
    const ofRing = fields.filter((field) => field !== 'stateReason');
    return [{ structure, segment: null, fields: ofRing }, ...rows];
  });
}

/** Where a key leads from a cell: along its column over rows that lack it, or along its row; null at the edge. */
export function moveInGrid(
  rows: readonly GridRow[],
  { row, field }: Cell,
  direction: Direction,
): Cell | null {
  if (direction === 'up' || direction === 'down') {
    const step = direction === 'up' ? -1 : 1;
    for (let next = row + step; next >= 0 && next < rows.length; next += step) {
      if (rows[next].fields.includes(field)) return { row: next, field };
    }
    return null;
  }
  if (direction === 'next-structure' || direction === 'previous-structure') {
    const step = direction === 'next-structure' ? 1 : -1;
    const { structure } = rows[row];
    const order = [...new Set(rows.map((one) => one.structure))];
    const target = order[order.indexOf(structure) + step];
    const first = rows.findIndex((one) => one.structure === target);
    if (first < 0) return null;
    return { row: first, field: rows[first].fields.includes(field) ? field : rows[first].fields[0] };
  }
  const { fields } = rows[row];
  const next = fields[fields.indexOf(field) + (direction === 'left' ? -1 : 1)];
  return next === undefined ? null : { row, field: next };
}

/** What a key does in a cell; null leaves the key to the browser. */
export type GridCommand =
  | { readonly kind: 'move'; readonly direction: Direction }
  | { readonly kind: 'fill-down' }
  | { readonly kind: 'save' }
  | { readonly kind: 'leave' };

interface PressedKey {
  readonly key: string;
  readonly shiftKey: boolean;
  readonly altKey: boolean;
  /** Control, or Command on a Mac. */
  readonly isCommand: boolean;
}

/** Where the caret stands in a cell whose text is being edited; in any other it is at both edges. */
export interface Caret {
  readonly isAtStart: boolean;
  readonly isAtEnd: boolean;
}

const MOVES: Readonly<Record<string, Direction>> = {
  PageDown: 'next-structure',
  PageUp: 'previous-structure',
  ArrowUp: 'up',
  ArrowDown: 'down',
  ArrowLeft: 'left',
  ArrowRight: 'right',
};

/**
 * Enter and arrows move like in a ledger, Page up and down from ring to ring, Escape leaves the table; with Control, D fills
 * down and Enter saves. Letters are never taken here.
 */
export function commandOf(
  { key, shiftKey, altKey, isCommand }: PressedKey,
  caret: Caret,
): GridCommand | null {
  if (altKey) return null;
  if (isCommand) {
    if (key.toLowerCase() === 'd') return { kind: 'fill-down' };
    return key === 'Enter' ? { kind: 'save' } : null;
  }
  if (key === 'Enter') return { kind: 'move', direction: shiftKey ? 'up' : 'down' };
  if (key === 'Escape') return { kind: 'leave' };
  const direction = MOVES[key];
  if (direction === undefined || shiftKey) return null;
  if (direction === 'left' && !caret.isAtStart) return null;
  if (direction === 'right' && !caret.isAtEnd) return null;
  return { kind: 'move', direction };
}
