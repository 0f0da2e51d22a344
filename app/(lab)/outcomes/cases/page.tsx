import type { Metadata } from 'next';
import { type LedgerColumn, LedgerTable } from '@/components/tables/ledger-table';
import { LinkButton } from '@/components/ui/button';
import { CountLink } from '@/components/ui/count-link';
import { EmptyState } from '@/components/ui/empty-state';
import { PageHead } from '@/components/ui/page-head';
import { Pager } from '@/components/ui/pager';
import { Ribbon } from '@/components/ui/ribbon';
import type { CaseLine } from '@/lib/analysis/outcomes/case-list';
import type { SearchParams } from '@/lib/analysis/outcomes/outcomes-query';
import { FindingsNotice } from '../findings-notice';
import { loadCaseList } from '../load';

export const metadata: Metadata = { title: 'Cases behind a number' };

const COLUMNS: readonly LedgerColumn<CaseLine>[] = [
  {
    key: 'code',
    head: 'Case',
    rowHead: true,
    cell: ({ procedureId, code }) => <CountLink href={`/cases/${procedureId}`}>{code}</CountLink>,
  },
  { key: 'performed', head: 'Procedure', kind: 'day', cell: ({ performedOn }) => performedOn },
  { key: 'time', head: 'Days', kind: 'number', cell: ({ timeDays }) => timeDays ?? 'none' },
  { key: 'status', head: 'Status', cell: ({ status }) => status },
  { key: 'sentence', head: 'Why', cell: ({ sentence }) => sentence },
];

export default async function CasesBehindPage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const { question, findings, list, backHref } = await loadCaseList(await searchParams);
  const back = <LinkButton href={backHref}>Back to the figure</LinkButton>;
  if (!question || !list) {
    return (
      <>
        <PageHead title="Cases behind a number" />
        <FindingsNotice findings={findings} />
        <EmptyState title="No number of the figure leads here" action={back}>
          <p>The address names no group or count of this figure. Open the list from the number itself.</p>
        </EmptyState>
      </>
    );
  }
  return (
    <>
      <PageHead title={list.title} lede={list.explains} />
      <Ribbon
        items={[{ label: 'Endpoint', value: `${question.name}, ${question.version}: ${question.sentence}` }]}
        actions={back}
      />
      {list.total === 0 ? (
        <EmptyState title="No case">
          <p>The number is zero, so the list is empty.</p>
        </EmptyState>
      ) : (
        <LedgerTable<CaseLine>
          caption={list.title}
          captionHidden
          columns={COLUMNS}
          rows={list.lines}
          rowKey={({ procedureId }) => procedureId}
        />
      )}
      <Pager
        from={list.from}
        to={list.to}
        total={list.total}
        noun="cases"
        previousHref={list.previousHref}
        nextHref={list.nextHref}
      />
    </>
  );
}
