import { type LedgerColumn, LedgerTable } from '@/components/tables/ledger-table';
import { LinkButton } from '@/components/ui/button';
import { CountLink } from '@/components/ui/count-link';
import { StateMark, type StateMarkKind } from '@/components/ui/state-mark';
import { evidenceWords } from '@/lib/registry/slot-evidence';
import { lossOf, type SlotState, type WorklistItem } from '@/lib/registry/worklist';
import styles from './worklist-table.module.css';

const MARKS: Record<SlotState, StateMarkKind> = {
  overdue: 'overdue',
  'in-window': 'due',
  upcoming: 'upcoming',
  missed: 'missed',
};

interface WorklistTableProps {
  readonly caption: string;
  readonly items: readonly WorklistItem[];
  readonly mayEnter: boolean;
}

/** Follow-ups with what is lost if nothing happens; each row leads to the case and to the visit form of its slot. */
export function WorklistTable({ caption, items, mayEnter }: WorklistTableProps) {
  const columns: LedgerColumn<WorklistItem>[] = [
    {
      key: 'case',
      head: 'Case',
      rowHead: true,
      cell: (item) => <CountLink href={`/cases/${item.procedureId}/follow-up`}>{item.caseCode}</CountLink>,
    },
    { key: 'visit', head: 'Follow-up', cell: contactOf },
    { key: 'due', head: 'Due', kind: 'day', cell: (item) => item.dueOn },
    {
      key: 'state',
      head: 'When',
      cell: (item) => <StateMark kind={MARKS[item.state]}>{lossOf(item)}</StateMark>,
    },
    { key: 'evidence', head: 'Evidence needed', cell: (item) => evidenceWords(item.slot) },
  ];
  if (mayEnter) {
    columns.push({
      key: 'enter',
      head: <span className="visually-hidden">Enter</span>,
      kind: 'action',
      cell: (item) => (
        <LinkButton href={entryOf(item)}>
          {item.awaits === 'contact' ? 'Enter' : 'Add it'}
          <span className="visually-hidden">
            {item.awaits === 'contact' ? ' ' : ', the recording, to '}
            {item.slot.label} of {item.caseCode}
          </span>
        </LinkButton>
      ),
    });
  }
  return (
    <LedgerTable
      caption={caption}
      captionHidden
      columns={columns}
      rows={items}
      rowKey={(item) => `${item.procedureId} ${item.slot.code}`}
    />
  );
}

function contactOf({ slot, awaits }: WorklistItem) {
  return awaits === 'contact' ? (
    slot.label
  ) : (
    <>
      {slot.label}
      <div className={styles.quiet}>seen; recording awaited</div>
    </>
  );
}

/** A contact is entered as a new visit; a recording that came later is added to the visit that lacks it. */
function entryOf({ procedureId, slot, visitId }: WorklistItem): string {
  const visits = `/cases/${procedureId}/visits`;
  return visitId === null ? `${visits}/new?slot=${slot.code}` : `${visits}/${visitId}`;
}
