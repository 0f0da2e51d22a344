import type { Metadata } from 'next';
import { LonePage } from '@/components/shell/lone-page';
import { Notice } from '@/components/ui/notice';
import { PageHead } from '@/components/ui/page-head';
import { createFirstAdministrator } from './actions';
import { FirstRunForm } from './first-run-form';

export const metadata: Metadata = { title: 'First run', referrer: 'no-referrer' };

interface FirstRunPageProps {
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

export default async function FirstRunPage({ searchParams }: FirstRunPageProps) {
  const { token } = await searchParams;
  return (
    <LonePage>
      <PageHead
        title="Make the lab’s first administrator"
        lede="The link in the terminal works once, and for a day. Whoever uses it can invite the others."
      />
      {typeof token === 'string' && token !== '' ? (
        <FirstRunForm token={token} action={createFirstAdministrator} />
      ) : (
        <Notice kind="harm" title="The link is incomplete">
          <p>Copy the whole line from the terminal in which the lab was started, beginning with http.</p>
        </Notice>
      )}
    </LonePage>
  );
}
