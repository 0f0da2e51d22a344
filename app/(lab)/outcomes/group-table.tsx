import { type LedgerColumn, LedgerTable } from '@/components/tables/ledger-table';
import { CountLink } from '@/components/ui/count-link';
import type { LinkedCount } from '@/lib/analysis/outcomes/figure-model';
import type { GroupLine, LinkedEstimate, OutcomesView } from '@/lib/analysis/outcomes/outcomes-view';
import styles from './group-table.module.css';

/** Each group in numbers: counts, the 12-month value and the median, each with its interval or the reason for none. */
export function GroupTable({ view }: { view: OutcomesView }) {
  const { groups, event } = view;
  const columns: LedgerColumn<GroupLine>[] = [
    { key: 'label', head: 'Group', cell: ({ label }) => label, rowHead: true },
    { key: 'analysed', head: 'Cases', kind: 'number', cell: ({ analysed }) => <Count count={analysed} /> },
    {
      key: 'events',
      head: `With a ${event}`,
      kind: 'number',
      cell: ({ events }) => <Count count={events} />,
    },
    ...(groups.some(({ died }) => died)
      ? [
          {
            key: 'died',
            head: 'Died without',
            kind: 'number' as const,
            cell: ({ died }: GroupLine) => (died ? <Count count={died} /> : null),
          },
        ]
      : []),
    { key: 'censored', head: 'Censored', kind: 'number', cell: ({ censored }) => <Count count={censored} /> },
    {
      key: 'twelve',
      head: 'At 12 months',
      kind: 'number',
      cell: (row) => <Estimate estimate={row.twelveMonths} />,
    },
    { key: 'median', head: 'Median', kind: 'number', cell: (row) => <Estimate estimate={row.median} /> },
  ];
  return (
    <LedgerTable<GroupLine>
      caption={groups.length > 1 ? 'Group by group, crude' : 'In numbers'}
      rows={groups}
      rowKey={({ key }) => key}
      columns={columns}
    />
  );
}

function Count({ count }: { count: LinkedCount }) {
  return (
    <CountLink href={count.href} opens={count.label}>
      {count.text}
    </CountLink>
  );
}

function Estimate({ estimate }: { estimate: LinkedEstimate }) {
  const { value, interval, note, href, opens } = estimate;
  return (
    <>
      <CountLink href={href} opens={opens}>
        {value}
      </CountLink>
      {interval ? <span className={styles.quiet}>{interval}</span> : null}
      {note ? <span className={styles.quiet}>{note}</span> : null}
    </>
  );
}
