import { type LedgerColumn, LedgerTable } from '@/components/tables/ledger-table';
import { LinkButton } from '@/components/ui/button';
import { StateMark } from '@/components/ui/state-mark';
import { VOID_REASONS } from '@/lib/registry/complication-vocabulary';
import {
  EARLY_READMISSION_DAYS,
  READMISSION_CAUSES,
  type ReadmissionTiming,
} from '@/lib/registry/readmission';
import { labelOf } from '@/lib/registry/vocabulary';

interface ReadmissionLine {
  readonly id: string;
  readonly admittedOn: string;
  readonly dischargedOn: string | null;
  readonly cause: string;
  readonly timing: ReadmissionTiming;
  readonly isVoided: boolean;
  readonly voidedReason: string | null;
}

interface ReadmissionTableProps {
  readonly caseId: string;
  readonly readmissions: readonly ReadmissionLine[];
  readonly mayChange: boolean;
}

/** Stays in hospital after the one for the procedure; those within 30 days are flagged. */
export function ReadmissionTable({ caseId, readmissions, mayChange }: ReadmissionTableProps) {
  if (readmissions.length === 0) return <p>No readmission is entered.</p>;
  const columns: LedgerColumn<ReadmissionLine>[] = [
    { key: 'from', head: 'Admitted on', rowHead: true, cell: ({ admittedOn }) => admittedOn },
    {
      key: 'to',
      head: 'Discharged on',
      kind: 'day',
      cell: ({ dischargedOn }) => dischargedOn ?? 'not recorded',
    },
    { key: 'cause', head: 'Cause', cell: ({ cause }) => labelOf(READMISSION_CAUSES, cause) },
    { key: 'when', head: 'When', cell: (line) => <When line={line} /> },
  ];
  if (mayChange) {
    columns.push({
      key: 'change',
      head: <span className="visually-hidden">Change</span>,
      kind: 'action',
      cell: ({ id, admittedOn, isVoided }) =>
        isVoided ? null : (
          <LinkButton href={`/cases/${caseId}/readmissions/${id}`}>
            Change<span className="visually-hidden"> the readmission of {admittedOn}</span>
          </LinkButton>
        ),
    });
  }
  return (
    <LedgerTable
      caption="Readmissions of this case"
      captionHidden
      columns={columns}
      rows={readmissions}
      rowKey={({ id }) => id}
    />
  );
}

function When({ line: { timing, isVoided, voidedReason } }: { line: ReadmissionLine }) {
  if (isVoided) {
    return (
      <StateMark kind="not-applicable">
        void, counts nowhere: {labelOf(VOID_REASONS, voidedReason).toLowerCase()}
      </StateMark>
    );
  }
  const days = `${timing.days === 1 ? '1 day' : `${timing.days} days`} after the ${timing.from}`;
  if (!timing.isEarly) return days;
  return (
    <>
      <StateMark kind="overdue">within {EARLY_READMISSION_DAYS} days</StateMark>
      <div>{days}</div>
    </>
  );
}
