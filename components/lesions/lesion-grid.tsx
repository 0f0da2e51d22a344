'use client';

import { type KeyboardEvent, useContext, useRef, useState } from 'react';
import { useFormContext, useFormState } from 'react-hook-form';
import { findingsOfErrors } from '@/components/forms/form-findings';
import { RecordFormContext } from '@/components/forms/record-form-context';
import { ELEMENT_FIELD_LABELS, type ElementField } from '@/lib/registry/forms/lesion-fields';
import type { LesionValues } from '@/lib/registry/forms/lesion-values';
import { kindOfStructure, STRUCTURES } from '@/lib/registry/lesion-vocabulary';
import { labelOf } from '@/lib/registry/vocabulary';
import { GridKeys } from './grid-keys';
import { commandOf, gridRows, moveInGrid } from './grid-moves';
import styles from './lesion-grid.module.css';
import { GridTable } from './lesion-grid-table';
import type { LesionCells } from './use-lesion-cells';

interface LesionGridProps {
  readonly structures: readonly string[];
  readonly isRepeat: boolean;
  readonly cells: LesionCells;
}

/** The whole set as a table that does everything by keyboard: a ledger of rings, and one of lines below it. */
export function LesionGrid({ structures, isRepeat, cells }: LesionGridProps) {
  const box = useRef<HTMLElement>(null);
  const [said, setSaid] = useState('');
  const { formId, warnings } = useContext(RecordFormContext);
  const { control } = useFormContext<LesionValues>();
  const { errors } = useFormState({ control, name: 'elements' });
  const findings = [...findingsOfErrors(errors.elements, 'elements'), ...warnings];
  const rows = gridRows(structures, isRepeat);
  const tables = [
    { caption: 'Rings', rows: rows.filter(({ structure }) => kindOfStructure(structure) !== 'line') },
    { caption: 'Lines', rows: rows.filter(({ structure }) => kindOfStructure(structure) === 'line') },
  ].filter((table) => table.rows.length > 0);

  const onKeyDown = (event: KeyboardEvent<HTMLElement>) => {
    const cell = event.target;
    if (event.defaultPrevented || !(cell instanceof HTMLInputElement || cell instanceof HTMLSelectElement))
      return;
    const row = rows[Number(cell.dataset.row)];
    const field = row?.fields.find((one) => one === cell.dataset.cell);
    if (row === undefined || field === undefined) return;
    const { key, shiftKey, altKey } = event;
    if (key === 'F2' && isTyped(cell)) {
      cell.dataset.editing = '';
      cell.setSelectionRange(cell.value.length, cell.value.length);
      return;
    }
    const command = commandOf(
      { key, shiftKey, altKey, isCommand: event.ctrlKey || event.metaKey },
      caretOf(cell),
    );
    if (command === null) return;
    event.preventDefault();
    if (command.kind === 'save') {
      cell.form?.requestSubmit();
    } else if (command.kind === 'leave') {
      box.current?.parentElement?.querySelector<HTMLElement>('[data-after-grid] select')?.focus();
    } else if (command.kind === 'fill-down') {
      // The row of the whole ring fills its ring by itself.
      if (row.segment === null) return;
      const filled = cells.fillDownFrom({ structure: row.structure, segment: row.segment }, field);
      setSaid(`${ELEMENT_FIELD_LABELS[field]}: ${filledWords(filled)} below.`);
    } else {
      const next = moveInGrid(rows, { row: rows.indexOf(row), field }, command.direction);
      if (next) focusCell(box.current, next.row, next.field);
    }
  };
  const tellFilled = (structure: string, field: ElementField, filled: number) =>
    setSaid(`${labelOf(STRUCTURES, structure)}, ${ELEMENT_FIELD_LABELS[field]}: ${filledWords(filled)}.`);
  return (
    // Keys are heard for all cells at once; the cells themselves are the controls.
    <section
      ref={box}
      aria-label="Lesion set as a table"
      className={styles.grid}
      onKeyDown={onKeyDown}
      onFocus={({ target }) => {
        if (isTyped(target)) target.select();
      }}
      onBlur={({ target }) => {
        if (isTyped(target)) delete target.dataset.editing;
      }}
      onPointerDown={({ target }) => {
        if (isTyped(target) && target === document.activeElement) target.dataset.editing = '';
      }}
    >
      <GridKeys said={said} />
      {tables.map((table) => (
        <GridTable
          key={table.caption}
          {...table}
          first={rows.indexOf(table.rows[0])}
          formId={formId}
          findings={findings}
          cells={cells}
          onFilled={tellFilled}
        />
      ))}
    </section>
  );
}

const filledWords = (count: number) => (count === 1 ? '1 cell filled' : `${count} cells filled`);

/**
 * As in a ledger: arrows leave a cell that is being typed into. Whoever presses F2, or points into the text of the cell they
 * are in, edits it: then the arrows move the caret until it stands at the edge.
 */
function caretOf(cell: HTMLInputElement | HTMLSelectElement) {
  if (cell instanceof HTMLSelectElement || cell.dataset.editing === undefined)
    return { isAtStart: true, isAtEnd: true };
  const { selectionStart, selectionEnd, value } = cell;
  return {
    isAtStart: selectionStart === 0 && selectionEnd === 0,
    isAtEnd: selectionStart === value.length && selectionEnd === value.length,
  };
}

const isTyped = (target: EventTarget): target is HTMLInputElement =>
  target instanceof HTMLInputElement && target.dataset.cell !== undefined;

function focusCell(box: HTMLElement | null, row: number, field: ElementField): void {
  box?.querySelector<HTMLElement>(`[data-row="${row}"][data-cell="${field}"]`)?.focus();
}
