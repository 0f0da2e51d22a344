import { type LedgerColumn, LedgerTable } from '@/components/tables/ledger-table';
import { LinkButton } from '@/components/ui/button';
import { DRUGS } from '@/lib/registry/drugs';
import { slotWords } from '@/lib/registry/visit-slots';
import {
  CARDIOVERSION_KINDS,
  labelOf,
  RECORDING_KINDS,
  RECORDING_SOURCES,
  RHYTHMS,
  VISIT_MODES,
} from '@/lib/registry/vocabulary';

interface RecordingLine {
  readonly id: string;
  readonly kind: string;
  readonly startedOn: string;
  readonly endedOn: string;
  readonly durationMinutes: number | null;
  readonly rhythm: string;
  readonly wholeTracing: boolean;
  readonly longestEpisodeSeconds: number | null;
  readonly source: string;
}

interface VisitLine {
  readonly id: string;
  readonly slot: string;
  readonly visitedOn: string;
  readonly mode: string;
  readonly drugsReviewed: boolean;
  readonly recordings: readonly RecordingLine[];
}

interface VisitTableProps {
  readonly caseId: string;
  readonly visits: readonly VisitLine[];
  readonly slots: readonly { readonly code: string; readonly label: string }[];
  readonly mayChange: boolean;
}

/** Visits of a case in order, each with what its recordings showed. */
export function VisitTable({ caseId, visits, slots, mayChange }: VisitTableProps) {
  if (visits.length === 0) return <p>No visit is entered yet.</p>;
  const columns: LedgerColumn<VisitLine>[] = [
    { key: 'day', head: 'Day', rowHead: true, cell: (visit) => visit.visitedOn },
    {
      key: 'slot',
      head: 'Visit',
      cell: (visit) => slotWords(visit.slot, slots),
    },
    { key: 'mode', head: 'Mode', cell: (visit) => labelOf(VISIT_MODES, visit.mode) },
    { key: 'recordings', head: 'Recordings', cell: (visit) => <Recordings recordings={visit.recordings} /> },
    { key: 'drugs', head: 'Drugs known', cell: (visit) => (visit.drugsReviewed ? 'yes' : 'no') },
  ];
  if (mayChange) {
    columns.push({
      key: 'change',
      head: <span className="visually-hidden">Change</span>,
      kind: 'action',
      cell: (visit) => (
        <LinkButton href={`/cases/${caseId}/visits/${visit.id}`}>
          Change<span className="visually-hidden"> the visit of {visit.visitedOn}</span>
        </LinkButton>
      ),
    });
  }
  return (
    <LedgerTable
      caption="Visits of this case"
      captionHidden
      columns={columns}
      rows={visits}
      rowKey={(visit) => visit.id}
    />
  );
}

function Recordings({ recordings }: { recordings: readonly RecordingLine[] }) {
  if (recordings.length === 0) return 'none';
  return recordings.map((recording) => <div key={recording.id}>{recordingWords(recording)}</div>);
}

/** 'Continuous recording, 24 h or longer, 168 h: AF, longest episode 95 s'. */
function recordingWords(recording: RecordingLine): string {
  const hours =
    recording.durationMinutes === null ? '' : `, ${Math.round(recording.durationMinutes / 6) / 10} h`;
  const episode =
    recording.longestEpisodeSeconds === null
      ? ''
      : `, longest episode ${recording.longestEpisodeSeconds.toLocaleString('en-GB')} s`;
  const whole = recording.wholeTracing ? ', the whole tracing' : '';
  return `${labelOf(RECORDING_KINDS, recording.kind)}${hours}: ${labelOf(RHYTHMS, recording.rhythm)}${whole}${episode}`;
}

const RECORDING_COLUMNS: readonly LedgerColumn<RecordingLine>[] = [
  {
    key: 'day',
    head: 'Day',
    rowHead: true,
    cell: ({ startedOn, endedOn }) => (startedOn === endedOn ? startedOn : `${startedOn} to ${endedOn}`),
  },
  { key: 'what', head: 'Recording', cell: recordingWords },
  { key: 'source', head: 'Source', cell: ({ source }) => labelOf(RECORDING_SOURCES, source) },
];

/** Recordings by themselves, in order of days. */
export function RecordingTable({
  caption,
  recordings,
}: {
  caption: string;
  recordings: readonly RecordingLine[];
}) {
  return (
    <LedgerTable
      caption={caption}
      captionHidden
      columns={RECORDING_COLUMNS}
      rows={recordings}
      rowKey={({ id }) => id}
    />
  );
}

interface DrugTableProps {
  readonly episodes: readonly {
    readonly id: string;
    readonly drug: string;
    readonly startedOn: string;
    readonly stoppedOn: string | null;
  }[];
  readonly cardioversions: readonly {
    readonly id: string;
    readonly performedOn: string;
    readonly kind: string;
  }[];
}

/** Drug episodes and cardioversions of the patient on one line of time. */
export function DrugTable({ episodes, cardioversions }: DrugTableProps) {
  const lines = [
    ...episodes.map(({ id, drug, startedOn, stoppedOn }) => ({
      id,
      from: startedOn,
      to: stoppedOn ?? 'still taken',
      what: `${labelOf(DRUGS, drug)} (${DRUGS.find((one) => one.code === drug)?.drugClass ?? 'class not known'})`,
    })),
    ...cardioversions.map(({ id, performedOn, kind }) => ({
      id,
      from: performedOn,
      to: performedOn,
      what: `${labelOf(CARDIOVERSION_KINDS, kind)} cardioversion`,
    })),
  ].sort((a, b) => (a.from < b.from ? -1 : 1));
  if (lines.length === 0) return <p>None is recorded.</p>;
  return (
    <LedgerTable
      caption="Drugs and cardioversions of the patient"
      captionHidden
      columns={[
        { key: 'from', head: 'From', rowHead: true, cell: (line) => line.from },
        { key: 'to', head: 'Last day', cell: (line) => line.to },
        { key: 'what', head: 'What', cell: (line) => line.what },
      ]}
      rows={lines}
      rowKey={(line) => line.id}
    />
  );
}
