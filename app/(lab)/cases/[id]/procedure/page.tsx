import type { Metadata } from 'next';
import { CaseFrame } from '@/components/registry/case-frame';
import { CaseMargin } from '@/components/registry/case-margin';
import { ProcedureValues } from '@/components/registry/case-values';
import { LinkButton } from '@/components/ui/button';
import { Spread } from '@/components/ui/spread';
import { loadCase } from '../load';
import { Standing } from '../standing';

export const metadata: Metadata = { title: 'Case, procedure' };

export default async function CaseProcedure({ params }: { params: Promise<{ id: string }> }) {
  const { head, may, standing, operators } = await loadCase((await params).id);
  return (
    <CaseFrame
      head={head}
      part="procedure"
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
        <h2>What was done</h2>
        <ProcedureValues values={head.values} operators={operators} kept={head.keptValues} />
      </Spread>
    </CaseFrame>
  );
}
