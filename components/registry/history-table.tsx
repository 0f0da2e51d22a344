import { type LedgerColumn, LedgerTable } from '@/components/tables/ledger-table';
import {
  BASELINE_LABELS,
  PATIENT_LABELS,
  PROCEDURE_LABELS,
  RECORDING_LABELS,
  VISIT_LABELS,
} from '@/lib/registry/forms/field-labels';
import { AMENDMENT_REASONS, labelOf } from '@/lib/registry/vocabulary';

interface HistoryLine {
  readonly seq: string;
  readonly at: string;
  readonly who: string;
  readonly entity: string;
  readonly reason: string;
  readonly changes: readonly { readonly field: string; readonly from: string; readonly to: string }[];
}

const ENTITIES: Readonly<Record<string, string>> = {
  patients: 'Patient',
  procedures: 'Procedure',
  baselines: 'Baseline',
  follow_up_visits: 'Visit',
  recordings: 'Recording',
  drug_episodes: 'Drug',
  cardioversions: 'Cardioversion',
};
const FIELDS: Readonly<Record<string, string>> = {
  ...RECORDING_LABELS,
  ...BASELINE_LABELS,
  ...PROCEDURE_LABELS,
  ...VISIT_LABELS,
  ...PATIENT_LABELS,
  code: 'Code',
  ordinal: 'Ordinal',
  state: 'State',
  endedOn: 'Ended on',
  durationMinutes: 'Minutes recorded',
  fluoroscopySeconds: 'Fluoroscopy, seconds',
  hospitalNumberHash: 'Hospital number (hash)',
  hospitalNumberKeyId: 'Hospital number (key)',
  drug: 'Drug',
  stoppedOn: 'Last day taken',
  visitId: 'Visit',
};
const REASONS = [
  ...AMENDMENT_REASONS,
  { code: 'entered', label: 'Entered', definition: '' },
  { code: 'imported', label: 'Imported', definition: '' },
  { code: 'key-rotation', label: 'Key changed', definition: '' },
];

const COLUMNS: readonly LedgerColumn<HistoryLine>[] = [
  {
    key: 'at',
    head: 'When (UTC)',
    rowHead: true,
    cell: ({ at }) => `${at.slice(0, 10)} ${at.slice(11, 16)}`,
  },
  { key: 'who', head: 'Who', cell: ({ who }) => who },
  { key: 'what', head: 'What', cell: ({ entity }) => ENTITIES[entity] ?? entity },
  { key: 'change', head: 'Change', cell: ({ changes }) => <Changes changes={changes} /> },
  { key: 'why', head: 'Why', cell: ({ reason }) => labelOf(REASONS, reason) },
];

/** The trail of a patient in words: who, when, what from, what to, why. */
export function HistoryTable({ entries }: { entries: readonly HistoryLine[] }) {
  return (
    <LedgerTable
      caption="Changes to the record"
      captionHidden
      columns={COLUMNS}
      rows={entries}
      rowKey={({ seq }) => seq}
    />
  );
}

function Changes({ changes }: { changes: HistoryLine['changes'] }) {
  return changes.map(({ field, from, to }) => (
    <div key={field}>
      {FIELDS[field] ?? field}: {from === '' ? '' : `${from} to `}
      {to === '' ? 'nothing' : to}
    </div>
  ));
}
