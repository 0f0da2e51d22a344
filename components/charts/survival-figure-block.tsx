import { LedgerTable } from '@/components/tables/ledger-table';
import { CountLink } from '@/components/ui/count-link';
import { Figure } from '@/components/ui/figure';
import { Notice } from '@/components/ui/notice';
import type { FigureTableRow, SurvivalFigureModel } from '@/lib/analysis/outcomes/figure-model';
import { SurvivalDrawing } from './survival-figure';
import styles from './survival-figure.module.css';

/** The figure as a page shows it: drawn for the width there is, its sentence, its caption, and the same data as a table. */
export function SurvivalFigureBlock({ figure, idPrefix }: { figure: SurvivalFigureModel; idPrefix: string }) {
  const { title, sentence, drawings, undrawn, caption } = figure;
  return (
    <>
      <Figure
        title={title}
        caption={caption.map((line) => (
          <span key={line} className={styles.caption}>
            {line}
          </span>
        ))}
      >
        {drawings ? (
          <div className={styles.box}>
            <div className={styles.wide}>
              <SurvivalDrawing
                drawing={drawings.wide}
                idPrefix={`${idPrefix}-wide`}
                title={title}
                sentence={sentence}
              />
            </div>
            <div className={styles.narrow}>
              <SurvivalDrawing
                drawing={drawings.narrow}
                idPrefix={`${idPrefix}-narrow`}
                title={title}
                sentence={sentence}
              />
            </div>
          </div>
        ) : null}
        {undrawn ? (
          <Notice kind="plain" title="Too few to draw">
            {undrawn}
          </Notice>
        ) : null}
        <p className={styles.sentence}>{sentence}</p>
      </Figure>
      <details className={styles.table}>
        <summary>Table of this figure</summary>
        <FigureTable figure={figure} />
      </details>
    </>
  );
}

function FigureTable({ figure }: { figure: SurvivalFigureModel }) {
  return (
    <LedgerTable<FigureTableRow>
      caption={figure.title}
      rows={figure.table}
      rowKey={(row) => row.key}
      columns={[
        { key: 'group', head: 'Group', cell: (row) => row.group, rowHead: true },
        { key: 'day', head: 'Day', kind: 'number', cell: (row) => row.day },
        ...figure.countHeads.map((head, i) => ({
          key: head,
          head,
          kind: 'number' as const,
          cell: ({ counts: { [i]: count } }: FigureTableRow) => (
            <CountLink href={count.href} opens={count.label}>
              {count.text}
            </CountLink>
          ),
        })),
        { key: 'freedom', head: 'Estimate', kind: 'number', cell: (row) => row.freedom },
        { key: 'interval', head: 'Interval, 95\u2009%', kind: 'number', cell: (row) => row.interval },
      ]}
    />
  );
}
