'use client';

import { Fragment, useId } from 'react';
import { ScrollBox } from '@/components/tables/scroll-box';
import type { Finding } from '@/lib/registry/findings';
import type { ElementField } from '@/lib/registry/forms/lesion-fields';
import { elementPath, segmentLabel } from '@/lib/registry/forms/lesion-labels';
import { STRUCTURES } from '@/lib/registry/lesion-vocabulary';
import { labelOf } from '@/lib/registry/vocabulary';
import { COLUMN_HEADS } from './cell-choices';
import type { GridRow } from './grid-moves';
import { LesionCell } from './lesion-cell';
import styles from './lesion-grid.module.css';
import { RingCell } from './ring-cell';
import type { LesionCells } from './use-lesion-cells';

interface GridTableProps {
  readonly caption: string;
  readonly rows: readonly GridRow[];
  /** Number of the first row in the whole grid. */
  readonly first: number;
  readonly formId: string;
  readonly findings: readonly Finding[];
  readonly cells: LesionCells;
  readonly onFilled: (structure: string, field: ElementField, count: number) => void;
}

/** Rings or lines as one ledger; what has to be mended stands in words below its row. */
export function GridTable({ caption, rows, first, formId, findings, cells, onFilled }: GridTableProps) {
  const captionId = useId();
  const fields = rows.find(({ segment }) => segment !== null)?.fields ?? [];
  const { plans, change, follow, rowOf } = cells;
  return (
    <ScrollBox labelledBy={captionId}>
      <table className={styles.table}>
        <caption id={captionId}>{caption}</caption>
        <thead>
          <tr>
            <th scope="col">Segment</th>
            {fields.map((field) => (
              <th key={field} scope="col" data-column={field}>
                {COLUMN_HEADS[field]}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map(({ structure, segment, fields: own }, index) => {
            if (segment === null) {
              return (
                <tr key={structure} className={styles.whole}>
                  <th scope="row">{labelOf(STRUCTURES, structure)}: whole ring</th>
                  {fields.map((field) =>
                    own.includes(field) ? (
                      <RingCell
                        key={field}
                        structure={structure}
                        field={field}
                        row={first + index}
                        planned={plans[structure]?.[field] ?? ''}
                        cells={cells}
                        onFilled={onFilled}
                      />
                    ) : (
                      <td key={field} />
                    ),
                  )}
                </tr>
              );
            }
            const path = `elements.${structure}.${segment}.`;
            const found = findings.filter(({ field }) => field.startsWith(path));
            return (
              <Fragment key={`${structure} ${segment}`}>
                <tr>
                  <th scope="row">{segmentLabel(structure, segment)}</th>
                  {fields.map((field) => (
                    <LesionCell
                      key={field}
                      formId={formId}
                      structure={structure}
                      segment={segment}
                      field={field}
                      row={first + index}
                      isWrong={found.some(
                        (finding) =>
                          finding.kind === 'refusal' &&
                          finding.field === elementPath(structure, segment, field),
                      )}
                      change={change}
                      follow={follow}
                      rowOf={rowOf}
                    />
                  ))}
                </tr>
                {found.length > 0 ? (
                  <tr className={styles.found}>
                    <td colSpan={fields.length + 1}>
                      {found.map(({ field, message, kind }) => (
                        <p key={`${field} ${message}`} data-kind={kind}>
                          {kind === 'warning' ? 'Please check: ' : ''}
                          {message}
                        </p>
                      ))}
                    </td>
                  </tr>
                ) : null}
              </Fragment>
            );
          })}
        </tbody>
      </table>
    </ScrollBox>
  );
}
