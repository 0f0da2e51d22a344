import type { Metadata } from 'next';
import { CaseFrame } from '@/components/registry/case-frame';
import { CaseMargin } from '@/components/registry/case-margin';
import { EarlierRecord } from '@/components/registry/earlier-record';
import { LinkButton } from '@/components/ui/button';
import { Notice } from '@/components/ui/notice';
import { Spread } from '@/components/ui/spread';
import { loadEarlier } from '../../load';
import { Standing } from '../../standing';

export const metadata: Metadata = { title: 'Case, an earlier state' };

export default async function EarlierState({ params }: { params: Promise<{ id: string; seq: string }> }) {
  const { id, seq } = await params;
  const { head, may, standing, earlier } = await loadEarlier(id, seq);
  return (
    <CaseFrame
      head={head}
      part="history"
      actions={<LinkButton href={`/cases/${head.id}/history`}>Back to the history</LinkButton>}
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
        <h2>
          The record as it was on {earlier.at.slice(0, 10)} at {earlier.at.slice(11, 19)} UTC
        </h2>
        <Notice kind="plain" title="An earlier state">
          <p>
            Rebuilt from today’s record by taking back every later change in the trail. Nothing can be changed
            here.
          </p>
        </Notice>
        <EarlierRecord rows={earlier.rows} />
      </Spread>
    </CaseFrame>
  );
}
