import Link from 'next/link';
import { type ReactNode, useId } from 'react';
import styles from './ledger-table.module.css';
import { ScrollBox } from './scroll-box';

type SortState = 'ascending' | 'descending' | 'none';

export interface LedgerColumn<Row> {
  readonly key: string;
  readonly head: ReactNode;
  readonly cell: (row: Row) => ReactNode;
  /** 'number': right-aligned tabular figures; 'day': never broken over two lines. */
  readonly kind?: 'text' | 'number' | 'day' | 'action';
  /** The cell that names the row (one per table). */
  readonly rowHead?: boolean;
  /** Makes the head a link that sorts; `href` is where the next order is shown. */
  readonly sort?: { readonly href: string; readonly state: SortState };
}

interface LedgerTableProps<Row> {
  readonly caption: ReactNode;
  /** Keeps the caption for assistive technology only, when a heading right above says the same. */
  readonly captionHidden?: boolean;
  readonly columns: readonly LedgerColumn<Row>[];
  readonly rows: readonly Row[];
  readonly rowKey: (row: Row) => string;
  /** A quieter last row, for example totals: one node per column. */
  readonly foot?: readonly ReactNode[];
  /** Marks the row that the page is about. */
  readonly isCurrent?: (row: Row) => boolean;
}

const ARROWS: Record<SortState, string> = { ascending: '↑', descending: '↓', none: '' };

/** A ledger: a real table with hairlines, a caption, heads that sort by link, and a scroll box of its own when narrow. */
export function LedgerTable<Row>(props: LedgerTableProps<Row>) {
  const { caption, captionHidden, columns, rows, rowKey, foot, isCurrent } = props;
  const captionId = useId();
  return (
    <ScrollBox labelledBy={captionId}>
      <table className={styles.table}>
        <caption id={captionId} className={captionHidden ? 'visually-hidden' : styles.caption}>
          {caption}
        </caption>
        <thead>
          <tr>
            {columns.map((column) => (
              <th
                key={column.key}
                scope="col"
                className={styles[column.kind ?? 'text']}
                aria-sort={column.sort && column.sort.state !== 'none' ? column.sort.state : undefined}
              >
                {column.sort ? (
                  <Link href={column.sort.href} className={styles.sort} prefetch={false}>
                    {column.head}
                    <span aria-hidden="true"> {ARROWS[column.sort.state]}</span>
                  </Link>
                ) : (
                  column.head
                )}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={rowKey(row)} aria-current={isCurrent?.(row) ? 'true' : undefined}>
              {columns.map((column) =>
                column.rowHead ? (
                  <th key={column.key} scope="row" className={styles.rowHead}>
                    {column.cell(row)}
                  </th>
                ) : (
                  <td key={column.key} className={styles[column.kind ?? 'text']}>
                    {column.cell(row)}
                  </td>
                ),
              )}
            </tr>
          ))}
        </tbody>
        {foot ? (
          <tfoot>
            <tr>
              {columns.map((column, index) => (
                <td key={column.key} className={styles[column.kind ?? 'text']}>
                  {foot[index]}
                </td>
              ))}
            </tr>
          </tfoot>
        ) : null}
      </table>
    </ScrollBox>
  );
}
