import type { Metadata } from 'next';
import { OpenComplicationTable } from '@/components/registry/open-complication-table';
import { LinkButton } from '@/components/ui/button';
import { PageHead } from '@/components/ui/page-head';
import { Ribbon } from '@/components/ui/ribbon';
import { loadOpenComplications } from './load';

export const metadata: Metadata = { title: 'Complications to see to' };

export default async function OpenComplications() {
  const { toAdjudicate, unresolved, today, viewerId } = await loadOpenComplications();
  return (
    <>
      <PageHead
        title="Complications that need someone"
        lede="The longest known first. What is not adjudicated counts as reported until it is."
      />
      <Ribbon
        items={[
          { value: `${toAdjudicate.length} to adjudicate` },
          { value: `${unresolved.length} not yet resolved` },
        ]}
        actions={<LinkButton href="/today">Today</LinkButton>}
      />
      <h2 id="to-adjudicate">To adjudicate</h2>
      {toAdjudicate.length === 0 ? (
        <p>Every complication is adjudicated.</p>
      ) : (
        <OpenComplicationTable
          caption="Complications to adjudicate"
          complications={toAdjudicate}
          today={today}
          toDo="adjudicate"
          viewerId={viewerId}
        />
      )}
      <h2 id="not-resolved">Not yet resolved</h2>
      {unresolved.length === 0 ? (
        <p>Every complication has its end.</p>
      ) : (
        <OpenComplicationTable
          caption="Complications not yet resolved"
          complications={unresolved}
          today={today}
          toDo="follow"
          viewerId={viewerId}
        />
      )}
    </>
  );
}
