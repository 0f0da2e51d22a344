import { type LedgerColumn, LedgerTable } from '@/components/tables/ledger-table';
import { CountLink } from '@/components/ui/count-link';
import { StateMark } from '@/components/ui/state-mark';
import {
  AF_TYPES,
  DERIVED_STRATEGIES,
  ENERGIES,
  labelOf,
  NOT_DERIVABLE,
  STRATEGIES,
} from '@/lib/registry/vocabulary';

export interface CaseTableRow {
  readonly id: string;
  readonly caseCode: string;
  readonly performedOn: string;
  readonly operatorCode: string | null;
  readonly afType: string | null;
  readonly intendedStrategy: string | null;
  readonly derivedStrategy: string;
  readonly energy: string | null;
  readonly daysToLastContact: number;
  readonly diedAfterDays: number | null;
}

const COLUMNS: readonly LedgerColumn<CaseTableRow>[] = [
  {
    key: 'case',
    head: 'Case',
    rowHead: true,
    cell: (row) => <CountLink href={`/cases/${row.id}`}>{row.caseCode}</CountLink>,
  },
  { key: 'performed', head: 'Performed', kind: 'day', cell: (row) => row.performedOn },
  { key: 'operator', head: 'Operator', cell: (row) => row.operatorCode ?? 'not recorded' },
  { key: 'af', head: 'AF type', cell: (row) => labelOf(AF_TYPES, row.afType) },
  { key: 'energy', head: 'Energy', cell: (row) => labelOf(ENERGIES, row.energy) },
  { key: 'strategy', head: 'Strategy as labelled', cell: (row) => labelOf(STRATEGIES, row.intendedStrategy) },
  { key: 'derived', head: 'From the lesions', cell: (row) => <Derived row={row} /> },
  { key: 'contact', head: 'Last contact, day', kind: 'number', cell: (row) => lastContact(row) },
];

/** The register's rows; a label that the lesions contradict is marked. */
export function CaseTable({ caption, rows }: { caption: string; rows: readonly CaseTableRow[] }) {
  return (
    <LedgerTable caption={caption} captionHidden columns={COLUMNS} rows={rows} rowKey={(row) => row.id} />
  );
}

function Derived({ row }: { row: CaseTableRow }) {
  const words = labelOf(DERIVED_STRATEGIES, row.derivedStrategy);
  if (row.derivedStrategy === NOT_DERIVABLE) return words;
  if (row.intendedStrategy === null || row.intendedStrategy === row.derivedStrategy) return words;
  return <StateMark kind="unfinished">{words}, differs from the label</StateMark>;
}

function lastContact({ daysToLastContact, diedAfterDays }: CaseTableRow): string {
  const days = daysToLastContact.toLocaleString('en-GB');
  return diedAfterDays === null ? days : `${days}, died`;
}
