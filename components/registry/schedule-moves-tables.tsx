import { type LedgerColumn, LedgerTable } from '@/components/tables/ledger-table';
import { CountLink } from '@/components/ui/count-link';
import type { PlannedSlot } from '@/lib/registry/follow-up-schedule';
import { windowWords } from '@/lib/registry/schedule-differences';
import { keyOfMove, type MoveCount, type ScheduleMove, type SlotChange } from '@/lib/registry/schedule-moves';
import { evidenceWords } from '@/lib/registry/slot-evidence';

const CHANGES: Record<SlotChange, string> = {
  added: 'Added',
  dropped: 'Dropped',
  moved: 'Moved',
  window: 'Window changed',
  evidence: 'Evidence changed',
  kind: 'Kind changed',
};

/** 'Moved: Visit, 9 months to Visit, 10 months'. */
export function moveWords({ change, before, after }: Pick<MoveCount, 'change' | 'before' | 'after'>): string {
  if (change === 'moved' || change === 'kind')
    return `${CHANGES[change]}: ${before?.label} to ${after?.label}`;
  return `${CHANGES[change]}: ${(after ?? before)?.label}`;
}

/** What exactly changes, where the name of the contact does not say it. */
function detailOf({ change, before, after }: MoveCount): string {
  if (change === 'evidence' && before && after) return `${evidenceWords(before)} to ${evidenceWords(after)}`;
  if (change !== 'window' || !before || !after) return '';
  const [was, will] = [windowWords(before), windowWords(after)];
  return was === will ? 'opens when the version takes effect' : `${was}; then ${will}`;
}

interface MoveCountTableProps {
  readonly counts: readonly MoveCount[];
  /** Where the list of one change is shown. */
  readonly hrefOf: (key: string) => string;
}

/** How many cases each change concerns; each count opens its cases. */
export function MoveCountTable({ counts, hrefOf }: MoveCountTableProps) {
  const columns: LedgerColumn<MoveCount>[] = [
    { key: 'what', head: 'Contact', rowHead: true, cell: moveWords },
    { key: 'detail', head: 'From and to', cell: detailOf },
    {
      key: 'cases',
      head: 'Cases',
      kind: 'number',
      cell: (count) => (
        <CountLink href={hrefOf(keyOfMove(count))} opens={`the cases of: ${moveWords(count)}`}>
          {count.cases.toLocaleString('en-GB')}
        </CountLink>
      ),
    },
  ];
  return (
    <LedgerTable caption="What moves" captionHidden columns={columns} rows={counts} rowKey={keyOfMove} />
  );
}

const daysOf = (planned: PlannedSlot | null): string =>
  planned === null ? 'none' : `${planned.dueOn} (${planned.opensOn} to ${planned.closesOn})`;

/** The cases of one change, with their days before and after. */
export function MoveTable({ caption, moves }: { caption: string; moves: readonly ScheduleMove[] }) {
  const columns: LedgerColumn<ScheduleMove>[] = [
    {
      key: 'case',
      head: 'Case',
      rowHead: true,
      cell: (move) => <CountLink href={`/cases/${move.procedureId}/follow-up`}>{move.caseCode}</CountLink>,
    },
    { key: 'before', head: 'Due so far (window)', cell: ({ before }) => daysOf(before) },
    { key: 'after', head: 'Due from then on (window)', cell: ({ after }) => daysOf(after) },
  ];
  return (
    <LedgerTable
      caption={caption}
      captionHidden
      columns={columns}
      rows={moves}
      rowKey={({ procedureId }) => procedureId}
    />
  );
}
