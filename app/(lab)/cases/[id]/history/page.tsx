import type { Metadata } from 'next';
import { CaseFrame } from '@/components/registry/case-frame';
import { CaseMargin } from '@/components/registry/case-margin';
import { HistoryTable } from '@/components/registry/history-table';
import { EmptyState } from '@/components/ui/empty-state';
import { Spread } from '@/components/ui/spread';
import { loadHistory } from '../load';
import { Standing } from '../standing';

export const metadata: Metadata = { title: 'Case, history' };

export default async function CaseHistory({ params }: { params: Promise<{ id: string }> }) {
  const { head, may, standing, entries } = await loadHistory((await params).id);
  return (
    <CaseFrame head={head} part="history">
      <Spread
        margin={
          <CaseMargin
            head={head}
            may={may}
            standing={<Standing head={head} may={may} standing={standing} />}
          />
        }
      >
        <h2>Every change to this patient’s record, latest first</h2>
        {entries.length === 0 ? (
          <EmptyState title="No single change yet">
            <p>The record came in with a bulk load, which stands in the lab’s trail as a whole.</p>
          </EmptyState>
        ) : (
          <HistoryTable caseId={head.id} entries={entries} />
        )}
      </Spread>
    </CaseFrame>
  );
}
