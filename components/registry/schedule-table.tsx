import { type LedgerColumn, LedgerTable } from '@/components/tables/ledger-table';
import { type ScheduleLine, windowWords } from '@/lib/registry/schedule-differences';
import { evidenceWords } from '@/lib/registry/slot-evidence';

interface ScheduleTableProps {
  readonly caption: string;
  readonly lines: readonly ScheduleLine[];
}

/** The contacts of a schedule; with a last column where they are compared with the version before. */
export function ScheduleTable({ caption, lines }: ScheduleTableProps) {
  const columns: LedgerColumn<ScheduleLine>[] = [
    { key: 'contact', head: 'Contact', rowHead: true, cell: ({ slot }) => slot.label },
    { key: 'window', head: 'Window', cell: ({ slot }) => windowWords(slot) },
    { key: 'evidence', head: 'Evidence needed', cell: ({ slot }) => evidenceWords(slot) },
  ];
  if (lines.some(({ difference }) => difference !== null)) {
    columns.push({ key: 'change', head: 'Against the version before', cell: ({ difference }) => difference });
  }
  return (
    <LedgerTable
      caption={caption}
      captionHidden
      columns={columns}
      rows={lines}
      rowKey={({ slot, difference }) => `${slot.code} ${difference === 'dropped'}`}
    />
  );
}
