import { type LedgerColumn, LedgerTable } from '@/components/tables/ledger-table';
import { CountLink } from '@/components/ui/count-link';
import { type CalendarDay, daysBetween } from '@/lib/registry/calendar-day';

interface UnfinishedCaseLine {
  readonly id: string;
  readonly caseCode: string;
  readonly performedOn: CalendarDay;
  readonly operatorCode: string | null;
}

interface UnfinishedCaseTableProps {
  readonly caption: string;
  readonly cases: readonly UnfinishedCaseLine[];
  readonly today: CalendarDay;
}

/** Cases whose record is not finished; each leads to the case, which lists what is missing. */
export function UnfinishedCaseTable({ caption, cases, today }: UnfinishedCaseTableProps) {
  const columns: LedgerColumn<UnfinishedCaseLine>[] = [
    {
      key: 'case',
      head: 'Case',
      rowHead: true,
      cell: ({ id, caseCode }) => <CountLink href={`/cases/${id}`}>{caseCode}</CountLink>,
    },
    { key: 'performed', head: 'Performed', kind: 'day', cell: ({ performedOn }) => performedOn },
    {
      key: 'waiting',
      head: 'Days since',
      kind: 'number',
      cell: ({ performedOn }) => daysBetween(performedOn, today).toLocaleString('en-GB'),
    },
    { key: 'operator', head: 'Operator', cell: ({ operatorCode }) => operatorCode ?? 'not recorded' },
  ];
  return (
    <LedgerTable caption={caption} captionHidden columns={columns} rows={cases} rowKey={({ id }) => id} />
  );
}
