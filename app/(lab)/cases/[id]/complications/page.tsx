import type { Metadata } from 'next';
import { CaseFrame } from '@/components/registry/case-frame';
import { CaseMargin } from '@/components/registry/case-margin';
import { ComplicationTable } from '@/components/registry/complication-table';
import { ReadmissionTable } from '@/components/registry/readmission-table';
import { LinkButton } from '@/components/ui/button';
import { Spread } from '@/components/ui/spread';
import { Standing } from '../standing';
import { loadComplications } from './load';

export const metadata: Metadata = { title: 'Case, complications' };

export default async function CaseComplications({ params }: { params: Promise<{ id: string }> }) {
  const { head, may, standing, complications, readmissions, diedOn } = await loadComplications(
    (await params).id,
  );
  return (
    <CaseFrame
      head={head}
      part="complications"
      actions={
        may.complication ? (
          <>
            <LinkButton href={`/cases/${head.id}/readmissions/new`}>Enter a readmission</LinkButton>
            <LinkButton href={`/cases/${head.id}/complications/new`} weight="primary">
              Report a complication
            </LinkButton>
          </>
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
        <h2>Complications</h2>
        <ComplicationTable caseId={head.id} complications={complications} diedOn={diedOn} />
        <p>{safetyWords(head.safety.state, complications.length)}</p>
        <h2>Readmissions</h2>
        <ReadmissionTable caseId={head.id} readmissions={readmissions} mayChange={may.complication} />
      </Spread>
    </CaseFrame>
  );
}

/** None reported is not none happened: that takes the checks. */
function safetyWords(state: string, reported: number): string {
  if (state === 'complete' || state === 'closed-by-death') {
    return reported === 0
      ? 'Harm was asked for to the end, and none was reported.'
      : 'Harm was asked for to the end.';
  }
  return 'Harm has not been asked for to the end: see the safety checks.';
}
