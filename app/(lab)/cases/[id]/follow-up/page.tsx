import type { Metadata } from 'next';
import { CaseFrame } from '@/components/registry/case-frame';
import { CaseMargin } from '@/components/registry/case-margin';
import { DrugTable, RecordingTable, VisitTable } from '@/components/registry/follow-up-tables';
import { WatchedSlotTable } from '@/components/registry/watched-slot-table';
import { WorklistTable } from '@/components/registry/worklist-table';
import { LinkButton } from '@/components/ui/button';
import { CountLink } from '@/components/ui/count-link';
import { Spread } from '@/components/ui/spread';
import { earlyRecurrenceInWords } from '@/lib/registry/early-recurrence';
import { loadFollowUp } from '../load';
import { Standing } from '../standing';

export const metadata: Metadata = { title: 'Case, follow-up' };

export default async function CaseFollowUp({ params }: { params: Promise<{ id: string }> }) {
  const { head, may, standing, followUp, slots, states, early, watched, device } = await loadFollowUp(
    (await params).id,
  );
  const planned = states.filter((item) => item.state !== 'missed').slice(0, 6);
  return (
    <CaseFrame
      head={head}
      part="follow-up"
      actions={
        may.visit ? (
          <LinkButton href={`/cases/${head.id}/visits/new`} weight="primary">
            Enter a visit
          </LinkButton>
        ) : null
      }
    >
      <Spread
        margin={
          <CaseMargin
            head={head}
            may={may}
            standing={<Standing head={head} may={may} standing={standing} />}
          />
        }
      >
        <h2>Visits</h2>
        <VisitTable caseId={head.id} visits={followUp.visits} slots={slots} mayChange={may.visit} />
        <h2>What is planned next</h2>
        {planned.length === 0 ? (
          <p>Nothing more is planned for this case.</p>
        ) : (
          <WorklistTable caption="Planned follow-ups of this case" items={planned} mayEnter={may.visit} />
        )}
        <h2>Early recurrence</h2>
        <p>
          {earlyRecurrenceInWords(early)} AF, AT or flutter of 30 s or more, or filling the whole tracing;
          what was recorded on the day of the procedure alone is not counted.
        </p>
        <h2>How well the patient was watched</h2>
        {watched.length === 0 ? (
          <p>No window of the plan has opened yet.</p>
        ) : (
          <>
            <WatchedSlotTable slots={watched} />
            <p>
              Only days within the window count here. A follow-up is done when its recording is entered, also
              when that was made outside the window.
            </p>
          </>
        )}
        {device ? (
          <p>
            An implanted device counted {device.days.toLocaleString('en-GB')} days, {device.firstDay} to{' '}
            {device.lastDay}.{' '}
            <CountLink href={`/cases/${head.id}/follow-up/burden`}>Arrhythmia by day</CountLink>
          </p>
        ) : null}
        {followUp.otherRecordings.length > 0 ? (
          <>
            <h2>Other recordings of the patient</h2>
            <RecordingTable
              caption="Recordings not taken at a visit of this case"
              recordings={followUp.otherRecordings}
            />
          </>
        ) : null}
        <h2>Drugs and cardioversions</h2>
        <DrugTable episodes={followUp.drugEpisodes} cardioversions={followUp.cardioversions} />
      </Spread>
    </CaseFrame>
  );
}
