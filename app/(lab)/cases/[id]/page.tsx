import type { Metadata } from 'next';
import { CaseFrame } from '@/components/registry/case-frame';
import { CaseMargin } from '@/components/registry/case-margin';
import { BaselineValues } from '@/components/registry/case-values';
import { ScoreTable } from '@/components/registry/score-table';
import { LinkButton } from '@/components/ui/button';
import { Spread } from '@/components/ui/spread';
import { loadCase } from './load';
import { Standing } from './standing';

export const metadata: Metadata = { title: 'Case, baseline' };

export default async function CaseBaseline({ params }: { params: Promise<{ id: string }> }) {
  const { head, may, standing, operators, scores } = await loadCase((await params).id);
  return (
    <CaseFrame
      head={head}
      part="baseline"
      actions={may.procedure ? <LinkButton href={`/cases/${head.id}/edit`}>Change</LinkButton> : null}
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
        <h2>Before the procedure</h2>
        <BaselineValues values={head.values} operators={operators} kept={head.keptValues} />
        <h2>Scores</h2>
        <ScoreTable scores={scores} editHref={may.procedure ? `/cases/${head.id}/edit` : null} />
      </Spread>
    </CaseFrame>
  );
}
