import { type LedgerColumn, LedgerTable } from '@/components/tables/ledger-table';
import { LinkButton } from '@/components/ui/button';
import { CountLink } from '@/components/ui/count-link';
import { StateMark } from '@/components/ui/state-mark';
import { type CalendarDay, daysBetween } from '@/lib/registry/calendar-day';
import { standingOf, type TwoStates } from '@/lib/registry/complication-standing';
import { factsWords } from './complication-words';

interface OpenComplicationLine extends TwoStates {
  readonly id: string;
  readonly procedureId: string;
  readonly caseCode: string;
  readonly performedOn: CalendarDay;
  readonly reportedById: string | null;
  readonly reportedBy: string | null;
}

interface OpenComplicationTableProps {
  readonly caption: string;
  readonly complications: readonly OpenComplicationLine[];
  readonly today: CalendarDay;
  readonly toDo: 'adjudicate' | 'follow';
  /** Who looks at the list: nobody adjudicates their own report. */
  readonly viewerId: string;
}

/** Complications of the whole lab that need someone; each row leads to the case and to the complication. */
export function OpenComplicationTable(props: OpenComplicationTableProps) {
  const { caption, complications, today, toDo, viewerId } = props;
  const columns: LedgerColumn<OpenComplicationLine>[] = [
    {
      key: 'case',
      head: 'Case',
      rowHead: true,
      cell: ({ procedureId, caseCode }) => (
        <CountLink href={`/cases/${procedureId}/complications`}>{caseCode}</CountLink>
      ),
    },
    { key: 'what', head: 'Complication', cell: (line) => factsWords(factsOf(line)) },
    {
      key: 'onset',
      head: 'Onset',
      kind: 'day',
      cell: (line) => {
        const { onsetOn } = factsOf(line);
        return `${onsetOn}, day ${daysBetween(line.performedOn, onsetOn)}`;
      },
    },
    {
      key: 'state',
      head: toDo === 'adjudicate' ? 'Reported by' : 'Not resolved for',
      cell: (line) =>
        toDo === 'follow' ? (
          <StateMark kind="unfinished">{dayWords(daysBetween(factsOf(line).onsetOn, today))}</StateMark>
        ) : line.reportedById === viewerId ? (
          'you: somebody else has to adjudicate'
        ) : (
          (line.reportedBy ?? 'a program')
        ),
    },
    {
      key: 'open',
      head: <span className="visually-hidden">Open</span>,
      kind: 'action',
      cell: (line) => (
        <LinkButton href={`/cases/${line.procedureId}/complications/${line.id}`}>
          Open
          <span className="visually-hidden">
            {' '}
            {factsWords(factsOf(line))} of {line.caseCode}
          </span>
        </LinkButton>
      ),
    },
  ];
  return (
    <LedgerTable
      caption={caption}
      captionHidden
      columns={columns}
      rows={complications}
      rowKey={({ id }) => id}
    />
  );
}

function factsOf(line: OpenComplicationLine) {
  const standing = standingOf(line);
  return standing.kind === 'counts' ? standing.facts : line.reported;
}

const dayWords = (days: number) => (days === 1 ? '1 day' : `${days} days`);
