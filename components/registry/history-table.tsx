import { type LedgerColumn, LedgerTable } from '@/components/tables/ledger-table';
import { CountLink } from '@/components/ui/count-link';
import { VOID_REASONS } from '@/lib/registry/complication-vocabulary';
import { AMENDMENT_REASONS, labelOf } from '@/lib/registry/vocabulary';
import { ENTITIES, wordsForField, wordsForValue } from './record-words';

interface HistoryLine {
  readonly seq: string;
  readonly at: string;
  readonly who: string;
  readonly entity: string;
  /** Segment that the change is about. */
  readonly place?: string | null;
  readonly reason: string;
  readonly changes: readonly { readonly field: string; readonly from: string; readonly to: string }[];
}

const REASONS = [
  ...AMENDMENT_REASONS,
  { code: 'entered', label: 'Entered', definition: '' },
  { code: 'imported', label: 'Imported', definition: '' },
  { code: 'adjudicated', label: 'Adjudicated', definition: '' },
  ...VOID_REASONS,
  { code: 'adjudicated', label: 'Adjudicated', definition: '' },
  ...VOID_REASONS,
  { code: 'key-rotation', label: 'Key changed', definition: '' },
];

const columnsOf = (caseId: string): readonly LedgerColumn<HistoryLine>[] => [
  {
    key: 'at',
    head: 'When (UTC)',
    rowHead: true,
    cell: ({ at, seq }) => (
      <CountLink href={`/cases/${caseId}/history/${seq}`}>
        {at.slice(0, 10)} {at.slice(11, 16)}
      </CountLink>
    ),
  },
  { key: 'who', head: 'Who', cell: ({ who }) => who },
  {
    key: 'what',
    head: 'What',
    cell: ({ entity, place }) => `${ENTITIES[entity] ?? entity}${place ? `: ${place}` : ''}`,
  },
  {
    key: 'change',
    head: 'Change',
    cell: ({ entity, changes }) => <Changes entity={entity} changes={changes} />,
  },
  { key: 'why', head: 'Why', cell: ({ reason }) => labelOf(REASONS, reason) },
];

interface HistoryTableProps {
  readonly caseId: string;
  readonly entries: readonly HistoryLine[];
}

/** The trail of a patient in words: who, when, what from, what to, why. Each time opens the record as it was then. */
export function HistoryTable({ caseId, entries }: HistoryTableProps) {
  return (
    <LedgerTable
      caption="Changes to the record"
      captionHidden
      columns={columnsOf(caseId)}
      rows={entries}
      rowKey={({ seq }) => seq}
    />
  );
}

function Changes({ entity, changes }: Pick<HistoryLine, 'entity' | 'changes'>) {
  return changes.map(({ field, from, to }) => (
    <div key={field}>
      {wordsForField(field)}: {from === '' ? '' : `${wordsForValue(entity, field, from)} to `}
      {wordsForValue(entity, field, to) || 'nothing'}
    </div>
  ));
}
