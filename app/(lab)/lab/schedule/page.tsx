import type { Metadata } from 'next';
import { ScheduleTable } from '@/components/registry/schedule-table';
import { ScheduleVersionTable } from '@/components/registry/schedule-version-table';
import { LinkButton } from '@/components/ui/button';
import { CountLink } from '@/components/ui/count-link';
import { PageHead } from '@/components/ui/page-head';
import { Ribbon } from '@/components/ui/ribbon';
import { MarginNote, Spread } from '@/components/ui/spread';
import { FOR_ALL } from '@/lib/registry/forms/schedule-form';
import { linesOfSchedule } from '@/lib/registry/schedule-differences';
import { type ScheduleLineState, scheduleStates, scopeWords } from '@/lib/registry/schedule-words';
import { loadSchedules } from './load';

export const metadata: Metadata = { title: 'Follow-up schedule' };

type Line = ScheduleLineState<Awaited<ReturnType<typeof loadSchedules>>['schedules'][number]>;

export default async function Schedules() {
  const { schedules, today, mayWrite } = await loadSchedules();
  const lines = scheduleStates(schedules, today);
  const own = lines.filter(
    ({ strategy, current }) => strategy !== null && current && current.slots.length > 0,
  );
  return (
    <>
      <PageHead
        title="Which contacts a case has after its procedure"
        lede={
          own.length === 0
            ? 'One schedule holds for all strategies.'
            : `${own.length === 1 ? 'One strategy has a schedule of its own' : `${own.length} strategies have a schedule of their own`}; all others follow the one for all.`
        }
      />
      <Ribbon
        items={[{ label: 'Versions stored', value: <a href="#versions">{schedules.length}</a> }]}
        actions={
          mayWrite ? (
            <LinkButton href="/lab/schedule/new" weight="primary">
              Make a new version
            </LinkButton>
          ) : null
        }
      />
      <Spread margin={<ScheduleMargin mayWrite={mayWrite} />}>
        {lines.map((line) => (
          <Holding key={line.strategy ?? FOR_ALL} line={line} mayWrite={mayWrite} />
        ))}
        <h2 id="versions">Versions</h2>
        <ScheduleVersionTable versions={[...schedules].reverse()} />
      </Spread>
    </>
  );
}

/** What holds of one schedule today, and what is to come. */
function Holding({ line, mayWrite }: { line: Line; mayWrite: boolean }) {
  const { strategy, current, coming } = line;
  const words = scopeWords(strategy);
  return (
    <section>
      <h2>For {words}</h2>
      <p>
        {current === null
          ? 'Nothing of its own holds yet. '
          : `Version ${current.versionNumber} holds${current.effectiveOn === null ? ' from the beginning' : ` since ${current.effectiveOn}`}. `}
        {coming ? (
          <>
            <CountLink href={`/lab/schedule/${coming.id}`}>Version {coming.versionNumber}</CountLink> takes
            effect on {coming.effectiveOn}.{' '}
          </>
        ) : null}
        {mayWrite && strategy !== null ? (
          <CountLink href={`/lab/schedule/new?for=${strategy}`}>
            Change it<span className="visually-hidden">, the schedule for {words}</span>
          </CountLink>
        ) : null}
      </p>
      {current && current.slots.length > 0 ? (
        <ScheduleTable
          caption={`Contacts for ${words}, version ${current.versionNumber}`}
          lines={linesOfSchedule(current.slots, null)}
        />
      ) : null}
      {current?.slots.length === 0 ? <p>It follows the schedule for all strategies again.</p> : null}
    </section>
  );
}

function ScheduleMargin({ mayWrite }: { mayWrite: boolean }) {
  return (
    <>
      <MarginNote title="A new version replans the future only">
        <p>
          What is open on the day when a version takes effect stays as it was planned, with the evidence that
          it needed. All that opens from that day on follows the new version. Nothing that both versions ask
          for falls between them.
        </p>
      </MarginNote>
      <MarginNote title="When a contact is done">
        <p>
          With its visit and the evidence it needs: a recording of that length or longer, entered with the
          visit or covering a day of its window. Until then it stays on Today.
        </p>
      </MarginNote>
      <MarginNote title="Where the first version comes from">
        <p>
          An ECG at 3 months and every 6 months to 2 years is the published minimum of routine care. The days
          of the safety calls, the yearly visits and all widths of windows are common practice, no source.
        </p>
      </MarginNote>
      {mayWrite ? null : (
        <MarginNote title="Who may change it">
          <p>The lab director or an administrator.</p>
        </MarginNote>
      )}
    </>
  );
}
