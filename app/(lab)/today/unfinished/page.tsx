import type { Metadata } from 'next';
import { UnfinishedCaseTable } from '@/components/registry/unfinished-case-table';
import { LinkButton } from '@/components/ui/button';
import { CountLink } from '@/components/ui/count-link';
import { EmptyState } from '@/components/ui/empty-state';
import { PageHead } from '@/components/ui/page-head';
import { Pager } from '@/components/ui/pager';
import { Ribbon } from '@/components/ui/ribbon';
import { loadUnfinished } from './load';

export const metadata: Metadata = { title: 'Cases not finished' };

interface PageProps {
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

const WORDS = { draft: 'in draft', entered: 'entered, not signed' } as const;

const hrefOf = (state: keyof typeof WORDS, page = 1) =>
  `/today/unfinished?${new URLSearchParams({ state, ...(page > 1 ? { page: String(page) } : {}) })}`;

export default async function Unfinished({ searchParams }: PageProps) {
  const list = await loadUnfinished(await searchParams);
  const { state, other, page, rows, total, otherTotal, from, hasNext, today } = list;
  return (
    <>
      <PageHead
        title={`${total.toLocaleString('en-GB')} ${total === 1 ? 'case' : 'cases'} ${WORDS[state]}`}
        lede="The longest waiting first. Each case says what it still needs; its numbers count meanwhile."
      />
      <Ribbon
        items={[
          {
            value: (
              <CountLink href={hrefOf(other)} opens="their list">
                <b>{otherTotal.toLocaleString('en-GB')}</b> {WORDS[other]}
              </CountLink>
            ),
          },
        ]}
        actions={<LinkButton href="/today">Today</LinkButton>}
      />
      {rows.length === 0 ? (
        <EmptyState title={`No case is ${WORDS[state]}`}>
          <p>A case begins as a draft when its procedure is recorded.</p>
        </EmptyState>
      ) : (
        <UnfinishedCaseTable caption={`Cases ${WORDS[state]}`} cases={rows} today={today} />
      )}
      <Pager
        from={from}
        to={from + rows.length - 1}
        total={total}
        noun="cases"
        previousHref={page > 1 ? hrefOf(state, page - 1) : undefined}
        nextHref={hasNext ? hrefOf(state, page + 1) : undefined}
      />
    </>
  );
}
