'use client';

import { useState } from 'react';
import { ELEMENT_FIELD_LABELS, type ElementField } from '@/lib/registry/forms/lesion-fields';
import { STRUCTURES } from '@/lib/registry/lesion-vocabulary';
import { labelOf } from '@/lib/registry/vocabulary';
import { choiceOfKey, choicesOfCell } from './cell-choices';
import styles from './lesion-grid.module.css';

interface RingCellProps {
  readonly structure: string;
  readonly field: ElementField;
  readonly row: number;
  /** What was last said for the whole ring. */
  readonly planned: string;
  readonly onPlan: (value: string) => void;
}

/** One cell of the row 'Whole ring': a choice goes to the segments at once, a typed value when the cell is left. */
export function RingCell({ structure, field, row, planned, onPlan }: RingCellProps) {
  const [draft, setDraft] = useState<string>();
  const shared = {
    'aria-label': `${labelOf(STRUCTURES, structure)}, whole ring, ${ELEMENT_FIELD_LABELS[field]}`,
    'data-row': row,
    'data-cell': field,
    value: draft ?? planned,
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
          onChange={(event) => setDraft(event.target.value)}
          onBlur={() => {
            if (draft !== undefined) onPlan(draft.trim());
            setDraft(undefined);
          }}
        />
      </td>
    );
  }
  return (
    <td>
      <select
        {...shared}
        className={styles.chosen}
        onChange={(event) => onPlan(event.target.value)}
        onKeyDown={(event) => {
          const value =
            event.ctrlKey || event.metaKey || event.altKey ? undefined : choiceOfKey(field, event.key);
          if (value === undefined) return;
          event.preventDefault();
          onPlan(value);
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
