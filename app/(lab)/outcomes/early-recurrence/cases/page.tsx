import type { Metadata } from 'next';
import { type LedgerColumn, LedgerTable } from '@/components/tables/ledger-table';
import { LinkButton } from '@/components/ui/button';
import { CountLink } from '@/components/ui/count-link';
import { EmptyState } from '@/components/ui/empty-state';
import { PageHead } from '@/components/ui/page-head';
import { Pager } from '@/components/ui/pager';
import { Ribbon } from '@/components/ui/ribbon';
import type { EarlyCase } from '@/lib/analysis/follow-up/early-recurrence';
import { loadEarlyCases } from '../load';

export const metadata: Metadata = { title: 'Cases behind a number' };

interface PageProps {
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

const COLUMNS: readonly LedgerColumn<EarlyCase>[] = [
  {
    key: 'code',
    head: 'Case',
    rowHead: true,
    cell: ({ procedureId, code }) => <CountLink href={`/cases/${procedureId}/follow-up`}>{code}</CountLink>,
  },
  { key: 'performed', head: 'Procedure', kind: 'day', cell: ({ performedOn }) => performedOn },
  { key: 'early', head: 'Early recurrence', cell: ({ early }) => early },
  { key: 'watched', head: 'Days 1 to 90 watched by', cell: ({ watched }) => watched },
];

export default async function EarlyCases({ searchParams }: PageProps) {
  const list = await loadEarlyCases(await searchParams);
  const back = <LinkButton href="/outcomes/early-recurrence">Back to the table</LinkButton>;
  if (!list || list.total === 0) {
    return (
      <>
        <PageHead title="Cases behind a number" />
        <EmptyState title={list ? 'No case' : 'No number of the table leads here'} action={back}>
          <p>
            {list ? 'The number is zero, so the list is empty.' : 'Open the list from the number itself.'}
          </p>
        </EmptyState>
      </>
    );
  }
  const { total, from, cases, previousHref, nextHref } = list;
  return (
    <>
      <PageHead
        title="Cases behind a number"
        lede={`${total.toLocaleString('en-GB')} ${total === 1 ? 'case' : 'cases'}: exactly those counted.`}
      />
      <Ribbon items={[{ value: 'Early recurrence' }]} actions={back} />
      <LedgerTable<EarlyCase>
        caption="Cases behind a number"
        captionHidden
        columns={COLUMNS}
        rows={cases}
        rowKey={({ procedureId }) => procedureId}
      />
      <Pager
        from={from}
        to={from + cases.length - 1}
        total={total}
        noun="cases"
        previousHref={previousHref}
        nextHref={nextHref}
      />
    </>
  );
}
