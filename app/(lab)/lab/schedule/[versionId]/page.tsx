import type { Metadata } from 'next';
import { ScheduleTable } from '@/components/registry/schedule-table';
import { LinkButton } from '@/components/ui/button';
import { PageHead } from '@/components/ui/page-head';
import { Ribbon } from '@/components/ui/ribbon';
import { MarginNote, Spread } from '@/components/ui/spread';
import { linesOfSchedule } from '@/lib/registry/schedule-differences';
import { versionWords } from '@/lib/registry/schedule-words';
import { loadVersion } from '../load';
import { Moves, movesSentence } from '../moves-shown';

export const metadata: Metadata = { title: 'Version of a schedule' };

interface PageProps {
  readonly params: Promise<{ versionId: string }>;
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

export default async function ScheduleVersionPage({ params, searchParams }: PageProps) {
  const { version, previous, moves } = await loadVersion((await params).versionId, await searchParams);
  const { id, slots, effectiveOn, madeAt, madeBy } = version;
  return (
    <>
      <PageHead
        title={versionWords(version)}
        lede={effectiveOn === null ? 'It holds from the beginning.' : `It takes effect on ${effectiveOn}.`}
      />
      <Ribbon
        items={[
          {
            label: 'Made',
            value: `${madeAt.slice(0, 10)}${madeBy === null ? ', with the lab' : ` by ${madeBy}`}`,
          },
          { label: 'Contacts', value: slots.length === 0 ? 'as for all strategies' : slots.length },
        ]}
        actions={<LinkButton href="/lab/schedule">All schedules</LinkButton>}
      />
      <Spread
        margin={
          <MarginNote title="A stored version never changes">
            <p>
              A newer one takes over on its day. What moves is counted over the cases of today, against the
              versions that were made before this one.
            </p>
          </MarginNote>
        }
      >
        {moves ? (
          <>
            <h2>What it moves</h2>
            <p>{movesSentence(moves)}</p>
            <Moves moves={moves} base={`/lab/schedule/${id}`} />
          </>
        ) : null}
        <h2>Its contacts</h2>
        {slots.length === 0 ? (
          <p>None of its own: from that day on the schedule for all strategies holds again.</p>
        ) : (
          <ScheduleTable caption={versionWords(version)} lines={linesOfSchedule(slots, previous)} />
        )}
      </Spread>
    </>
  );
}
