import { LedgerTable } from '@/components/tables/ledger-table';
import { CountLink } from '@/components/ui/count-link';
import type { FollowUpSchedule } from '@/lib/registry/schedule-versions';
import { versionWords } from '@/lib/registry/schedule-words';

interface VersionLine extends FollowUpSchedule {
  readonly id: string;
  readonly madeAt: string;
  readonly madeBy: string | null;
}

/** Every stored version, each a link to its contacts and what it moves. */
export function ScheduleVersionTable({ versions }: { versions: readonly VersionLine[] }) {
  return (
    <LedgerTable<VersionLine>
      caption="Versions of the schedules, the newest first"
      captionHidden
      columns={[
        {
          key: 'version',
          head: 'Version',
          rowHead: true,
          cell: (version) => (
            <CountLink href={`/lab/schedule/${version.id}`}>{versionWords(version)}</CountLink>
          ),
        },
        { key: 'from', head: 'Takes effect', kind: 'day', cell: fromWords },
        {
          key: 'contacts',
          head: 'Contacts',
          cell: ({ slots }) => (slots.length === 0 ? 'as for all' : slots.length),
        },
        {
          key: 'made',
          head: 'Made',
          cell: ({ madeAt, madeBy }) =>
            `${madeAt.slice(0, 10)}${madeBy === null ? ', with the lab' : ` by ${madeBy}`}`,
        },
      ]}
      rows={versions}
      rowKey={({ id }) => id}
    />
  );
}

const fromWords = ({ effectiveOn }: FollowUpSchedule): string => effectiveOn ?? 'from the beginning';
