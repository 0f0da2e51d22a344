'use client';

import { useRef } from 'react';
import { ELEMENT_FIELD_LABELS, type ElementField } from '@/lib/registry/forms/lesion-fields';
import { STRUCTURES } from '@/lib/registry/lesion-vocabulary';
import { labelOf } from '@/lib/registry/vocabulary';
import { choiceOfKey, choicesOfCell } from './cell-choices';
import styles from './lesion-grid.module.css';
import type { LesionCells } from './use-lesion-cells';

interface RingCellProps {
  readonly structure: string;
  readonly field: ElementField;
  readonly row: number;
  /** What was last said for the whole ring. */
  readonly planned: string;
  readonly cells: LesionCells;
  /** Told when the cell is left, with how many segments took its value. */
  readonly onFilled: (structure: string, field: ElementField, count: number) => void;
}

/** One cell of the row 'Whole ring': what is typed goes to its segments at once, so that nothing waits to be lost. */
export function RingCell({ structure, field, row, planned, cells, onFilled }: RingCellProps) {
  const takers = useRef<readonly string[]>(undefined);
  const plan = (value: string) => {
    takers.current ??= cells.takersOf(structure, field);
    cells.changeRing(structure, field, takers.current, value);
  };
  const shared = {
    'aria-label': `${labelOf(STRUCTURES, structure)}, whole ring, ${ELEMENT_FIELD_LABELS[field]}`,
    'data-row': row,
    'data-cell': field,
    value: planned,
    onBlur: () => {
      if (takers.current) onFilled(structure, field, takers.current.length);
      takers.current = undefined;
    },
  };
  const choices = choicesOfCell(field);
  if (choices === null) {
    return (
      <td>
        <input
          {...shared}
          type="text"
          inputMode="decimal"
          autoComplete="off"
          className={styles.typed}
          onChange={(event) => plan(event.target.value)}
        />
      </td>
    );
  }
  return (
    <td>
      <select
        {...shared}
        className={styles.chosen}
        onChange={(event) => plan(event.target.value)}
        onKeyDown={(event) => {
          const value =
            event.ctrlKey || event.metaKey || event.altKey ? undefined : choiceOfKey(field, event.key);
          if (value === undefined) return;
          event.preventDefault();
          plan(value);
        }}
      >
        <option value="" aria-label="not recorded">
          ·
        </option>
        {choices.map(({ code, label }) => (
          <option key={code} value={code}>
            {label}
          </option>
        ))}
      </select>
    </td>
  );
}
