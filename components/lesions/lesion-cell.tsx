'use client';

import { memo } from 'react';
import { useFormContext } from 'react-hook-form';
import { fieldId } from '@/components/forms/use-field';
import type { ElementField } from '@/lib/registry/forms/lesion-fields';
import { elementLabel, elementPath } from '@/lib/registry/forms/lesion-labels';
import type { LesionValues } from '@/lib/registry/forms/lesion-values';
import { choiceOfKey, choicesOfCell } from './cell-choices';
import styles from './lesion-grid.module.css';
import type { LesionCells } from './use-lesion-cells';

interface LesionCellProps {
  readonly formId: string;
  readonly structure: string;
  readonly segment: string;
  readonly field: ElementField;
  readonly row: number;
  readonly isWrong: boolean;
  readonly change: LesionCells['change'];
  readonly follow: LesionCells['follow'];
  readonly rowOf: LesionCells['rowOf'];
}

/** One cell of a segment: joined to the form, with what goes with it. */
export const LesionCell = memo(function LesionCell(props: LesionCellProps) {
  const { formId, structure, segment, field, row, isWrong, change, follow, rowOf } = props;
  const { register, formState } = useFormContext<LesionValues>();
  const path = elementPath(structure, segment, field);
  const registration = register(path);
  const place = { structure, segment };
  const shared = {
    ...registration,
    id: fieldId(formId, path),
    'aria-label': elementLabel(structure, segment, field),
    'aria-invalid': isWrong ? (true as const) : undefined,
    defaultValue: formState.defaultValues?.elements?.[structure]?.[segment]?.[field] ?? '',
    'data-row': row,
    'data-cell': field,
  };
  const choices = choicesOfCell(field);
  return (
    <td data-field={path} data-label={shared['aria-label']}>
      {choices === null ? (
        <input
          {...shared}
          type="text"
          inputMode="decimal"
          autoComplete="off"
          className={styles.typed}
          onChange={async (event) => {
            const before = rowOf(place);
            follow(place, field, event.target.value, before);
            await registration.onChange(event);
          }}
        />
      ) : (
        <select
          {...shared}
          className={styles.chosen}
          onChange={async (event) => {
            const before = rowOf(place);
            await registration.onChange(event);
            follow(place, field, event.target.value, before);
          }}
          onKeyDown={(event) => {
            const value =
              event.ctrlKey || event.metaKey || event.altKey ? undefined : choiceOfKey(field, event.key);
            if (value === undefined) return;
            event.preventDefault();
            change(place, field, value);
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
      )}
    </td>
  );
});
