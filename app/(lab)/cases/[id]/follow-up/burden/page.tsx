import type { Metadata } from 'next';
import { BurdenFigure } from '@/components/charts/burden-figure';
import { CaseFrame } from '@/components/registry/case-frame';
import { CaseMargin } from '@/components/registry/case-margin';
import { type LedgerColumn, LedgerTable } from '@/components/tables/ledger-table';
import { LinkButton } from '@/components/ui/button';
import { EmptyState } from '@/components/ui/empty-state';
import { Spread } from '@/components/ui/spread';
import type { CaseUnderDefinition } from '@/lib/analysis/follow-up/first-episodes';
import { Standing } from '../../standing';
import { loadBurden } from './load';

export const metadata: Metadata = { title: 'Case, arrhythmia by day' };

const COLUMNS: readonly LedgerColumn<CaseUnderDefinition>[] = [
  {
    key: 'definition',
    head: 'Endpoint definition',
    rowHead: true,
    cell: ({ name, versionNumber }) => `${name}, version ${versionNumber}`,
  },
  {
    key: 'time',
    head: 'Day',
    kind: 'number',
    cell: ({ timeDays }) => timeDays?.toLocaleString('en-GB') ?? 'none',
  },
  { key: 'status', head: 'How time ends', cell: ({ status }) => status },
  { key: 'why', head: 'Why', cell: ({ why }) => why },
];

export default async function CaseBurden({ params }: { params: Promise<{ id: string }> }) {
  const { head, may, standing, view, underDefinitions } = await loadBurden((await params).id);
  return (
    <CaseFrame
      head={head}
      part="follow-up"
      actions={<LinkButton href={`/cases/${head.id}/follow-up`}>Back to follow-up</LinkButton>}
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
        {view ? (
          <BurdenFigure view={view} />
        ) : (
          <EmptyState title="No implanted device has counted this patient’s days">
            <p>The daily burden of implanted devices is imported from a file under Exchange.</p>
          </EmptyState>
        )}
        <h2>First episode under each definition</h2>
        <p>
          From device days and recordings together. Where a definition asks for things that a device does not
          know (symptoms, drugs), they come from the visits.
        </p>
        <LedgerTable
          caption="This case under each endpoint definition of the lab"
          captionHidden
          columns={COLUMNS}
          rows={underDefinitions}
          rowKey={({ id }) => id}
        />
      </Spread>
    </CaseFrame>
  );
}
