import Link from 'next/link';
import { type LedgerColumn, LedgerTable } from '@/components/tables/ledger-table';
import { EmptyState } from '@/components/ui/empty-state';
import { StateMark } from '@/components/ui/state-mark';
import { abatementOf, isLongApplication } from '@/lib/registry/abatement';
import { type ShownSegment, type ShownStructure, stateWords } from '@/lib/registry/lesion-set';
import { BLOCK_TESTS, kindOfStructure } from '@/lib/registry/lesion-vocabulary';
import { millivoltFigure, reductionTenths } from '@/lib/registry/millivolt';
import { labelOf } from '@/lib/registry/vocabulary';
import { markOfSegment } from './lesion-marks';
import styles from './lesion-table.module.css';

/** What the table may be narrowed to; each is a link, so that a view can be kept. */
export const LESION_FILTERS = [
  { code: 'all', label: 'All of it' },
  { code: 'open', label: 'Still open' },
  { code: 'not-done', label: 'Not done' },
  { code: 'not-recorded', label: 'Not recorded' },
  { code: 'flagged', label: 'Flagged' },
] as const;
export type LesionFilter = (typeof LESION_FILTERS)[number]['code'];

interface LesionTableProps {
  readonly shown: readonly ShownStructure[];
  readonly energy: string | null;
  readonly isRepeat: boolean;
  readonly filter: LesionFilter;
  /** Address of the page without a filter. */
  readonly path: string;
}

/** The same as the schematic, segment by segment, with the reason for each state. */
export function LesionTable({ shown, energy, isRepeat, filter, path }: LesionTableProps) {
  const all = shown
    .filter(({ kind, isRecorded }) => isRecorded || kind === 'line')
    .flatMap(({ segments }) => segments);
  const rowsOf = (code: LesionFilter) => all.filter((segment) => isShown(segment, code, energy));
  const rows = rowsOf(filter);
  return (
    <>
      <nav aria-label="Rows of the table" className={styles.filters}>
        {LESION_FILTERS.map(({ code, label }) => (
          <Link
            key={code}
            href={code === 'all' ? path : `${path}?show=${code}`}
            aria-current={code === filter ? 'true' : undefined}
            prefetch={false}
            scroll={false}
          >
            {label}, {rowsOf(code).length}
          </Link>
        ))}
      </nav>
      {rows.length === 0 ? (
        <EmptyState title={all.length === 0 ? 'No ring or line is recorded yet' : 'No segment is so'} />
      ) : (
        <div className={styles.table}>
          <LedgerTable
            caption="Segments and lines"
            captionHidden
            columns={columnsOf(isRepeat, energy)}
            rows={rows}
            rowKey={({ structure, segment }) => `${structure} ${segment}`}
          />
        </div>
      )}
    </>
  );
}

function isShown(segment: ShownSegment, filter: LesionFilter, energy: string | null): boolean {
  if (filter === 'all') return true;
  if (filter === 'open') return segment.state === 'still-open';
  if (filter === 'flagged') {
    return (
      isLongApplication(energy, segment.element.longestSeconds) || segment.element.vagalResponse === true
    );
  }
  return segment.state === filter;
}

const figure = (value: number | null): string => (value === null ? '' : String(value));
/** Padded by a blank as wide as a figure, so that points stand below each other. */
const amplitude = (uv: number | null): string =>
  uv === null ? '' : millivoltFigure(uv).replace(/(\.\d\d)$/, '$1\u2007');
const yesNo = (value: boolean | null): string => (value === null ? '' : value ? 'yes' : 'no');

function reductionOf({ element }: ShownSegment): string {
  const tenths = reductionTenths(element.amplitudeBeforeUv, element.amplitudeAfterUv);
  return tenths === null ? '' : `${(tenths / 10).toFixed(1)} %`;
}

const number = (key: string, head: string, cell: (segment: ShownSegment) => string) =>
  ({ key, head, kind: 'number', cell }) as const;

function columnsOf(isRepeat: boolean, energy: string | null): readonly LedgerColumn<ShownSegment>[] {
  return [
    { key: 'segment', head: 'Segment', rowHead: true, cell: ({ label }) => label },
    {
      key: 'state',
      head: 'State',
      cell: (segment) => <StateMark kind={markOfSegment(segment)}>{stateWords(segment)}</StateMark>,
    },
    number('distance', 'From ostium, mm', ({ element }) => element.distanceMm?.toFixed(1) ?? ''),
    number('before', 'Before, mV', ({ element }) => amplitude(element.amplitudeBeforeUv)),
    number('after', 'After, mV', ({ element }) => amplitude(element.amplitudeAfterUv)),
    number('reduction', 'Reduction', reductionOf),
    number('applications', 'Applications', ({ element }) => figure(element.applications)),
    number('seconds', 'In all, s', ({ element }) => figure(element.totalSeconds)),
    number('longest', 'Longest, s', ({ element }) => figure(element.longestSeconds)),
    { key: 'first', head: 'First pass', cell: ({ element }) => yesNo(element.firstPass) },
    { key: 'final', head: 'Final check', cell: ({ element }) => yesNo(element.finalCheck) },
    { key: 'vagal', head: 'Vagal reflex', cell: ({ element }) => yesNo(element.vagalResponse) },
    ...(isRepeat
      ? [
          {
            key: 'back',
            head: 'Reconnected',
            cell: ({ element }: ShownSegment) => yesNo(element.reconnected),
          },
        ]
      : []),
    {
      key: 'why',
      head: 'Why',
      cell: (segment) => <span className={styles.why}>{whyOf(segment, energy)}</span>,
    },
  ];
}

/** Why a segment is in its state, in few words: which criterion an electrogram met, how block was tested, or the reason. */
function whyOf(segment: ShownSegment, energy: string | null): string {
  const { element, reason, structure, state } = segment;
  const isJudged = kindOfStructure(structure) !== 'line' && (state === 'abated' || state === 'still-open');
  if (!isJudged) {
    const tested =
      element.blockTest === null
        ? ''
        : ` Tested by ${labelOf(BLOCK_TESTS, element.blockTest).toLowerCase()}.`;
    return `${reason.replace(/^Done\. /, '')}${tested}`;
  }
  const { amplitudeBeforeUv: before, amplitudeAfterUv: after } = element;
  const { reductionMet, amplitudeMet } = abatementOf(energy, before, after);
  const met = [...(reductionMet ? ['> 90 %'] : []), ...(amplitudeMet ? ['< 0.1 mV'] : [])];
  const alone = before === null ? ', before missing' : '';
  return `${met.length === 0 ? 'no criterion met' : met.join(', ')}${alone}`;
}
