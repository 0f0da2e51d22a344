import { type LedgerColumn, LedgerTable } from '@/components/tables/ledger-table';
import { LinkButton } from '@/components/ui/button';
import { StateMark } from '@/components/ui/state-mark';
import type { CalendarDay } from '@/lib/registry/calendar-day';
import { isUnresolved, standingOf, type TwoStates } from '@/lib/registry/complication-standing';
import { OUTCOMES, TREATMENTS, VERDICTS, VOID_REASONS } from '@/lib/registry/complication-vocabulary';
import { labelOf } from '@/lib/registry/vocabulary';
import { factsWords, harmWords, onsetWords } from './complication-words';

export interface ComplicationLine extends TwoStates {
  readonly id: string;
  readonly performedOn: CalendarDay;
  readonly reportedBy: string | null;
  readonly adjudicatedBy: string | null;
  readonly voidedReason: string | null;
  readonly treatment: string | null;
  readonly outcome: string | null;
  readonly resolvedOn: CalendarDay | null;
}

interface ComplicationTableProps {
  readonly caseId: string;
  readonly complications: readonly ComplicationLine[];
  readonly diedOn: CalendarDay | null;
}

/** Complications of a case: what counts, from which of the two states, and how it went. Refuted and void ones stay in sight. */
export function ComplicationTable({ caseId, complications, diedOn }: ComplicationTableProps) {
  if (complications.length === 0) return <p>No complication is reported.</p>;
  const columns: LedgerColumn<ComplicationLine>[] = [
    { key: 'onset', head: 'Onset', rowHead: true, cell: (line) => <Onset line={line} /> },
    { key: 'counts', head: 'Counts as', cell: (line) => <CountsAs line={line} /> },
    { key: 'states', head: 'Adjudication', cell: (line) => <Adjudicated line={line} /> },
    { key: 'course', head: 'Course', cell: (line) => <Course line={line} diedOn={diedOn} /> },
    {
      key: 'open',
      head: <span className="visually-hidden">Open</span>,
      kind: 'action',
      cell: (line) => (
        <LinkButton href={`/cases/${caseId}/complications/${line.id}`}>
          Open<span className="visually-hidden"> {factsWords(line.reported)}</span>
        </LinkButton>
      ),
    },
  ];
  return (
    <LedgerTable
      caption="Complications of this case"
      captionHidden
      columns={columns}
      rows={complications}
      rowKey={({ id }) => id}
    />
  );
}

function Onset({ line }: { line: ComplicationLine }) {
  const standing = standingOf(line);
  return onsetWords(line.performedOn, (standing.kind === 'counts' ? standing.facts : line.reported).onsetOn);
}

function CountsAs({ line }: { line: ComplicationLine }) {
  const standing = standingOf(line);
  if (standing.kind !== 'counts') return `nothing: ${standing.kind === 'voided' ? 'void' : 'refuted'}`;
  return (
    <>
      <b>{factsWords(standing.facts)}</b>
      <div>Led to: {harmWords(standing.facts.harms)}</div>
    </>
  );
}

/** Where the two states stand; what was reported is named where the verdict is another. */
function Adjudicated({ line }: { line: Omit<ComplicationLine, 'outcome' | 'treatment' | 'resolvedOn'> }) {
  const { adjudication, adjudicatedBy, isVoided, voidedReason, reported, performedOn } = line;
  if (isVoided) {
    return (
      <>
        <StateMark kind="not-applicable">void</StateMark>
        <div>
          {labelOf(VOID_REASONS, voidedReason)}; it was {factsWords(reported)}
        </div>
      </>
    );
  }
  if (adjudication === null) return <StateMark kind="due">to adjudicate</StateMark>;
  const verdict = labelOf(VERDICTS, adjudication.verdict).toLowerCase();
  return (
    <>
      <StateMark kind={adjudication.verdict === 'refuted' ? 'not-done' : 'done'}>
        {verdict} by {adjudicatedBy ?? 'a person who is gone'}
      </StateMark>
      {adjudication.verdict === 'confirmed' ? null : (
        <div>
          Reported: {factsWords(reported)}, {onsetWords(performedOn, reported.onsetOn)}
        </div>
      )}
    </>
  );
}

function Course({ line, diedOn }: { line: ComplicationLine; diedOn: CalendarDay | null }) {
  const { treatment, outcome, resolvedOn } = line;
  return (
    <>
      {treatment === null ? null : <div>Treatment: {labelOf(TREATMENTS, treatment).toLowerCase()}</div>}
      {outcome === null ? null : <div>{labelOf(OUTCOMES, outcome)}</div>}
      {resolvedOn === null ? null : <div>Resolved on {resolvedOn}</div>}
      {isUnresolved(line, { diedOn }) ? <StateMark kind="unfinished">not yet resolved</StateMark> : null}
    </>
  );
}
