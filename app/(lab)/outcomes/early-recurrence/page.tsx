import type { Metadata } from 'next';
import { type LedgerColumn, LedgerTable } from '@/components/tables/ledger-table';
import { LinkButton } from '@/components/ui/button';
import { CountLink } from '@/components/ui/count-link';
import { DefinitionList } from '@/components/ui/definition-list';
import { EmptyState } from '@/components/ui/empty-state';
import { PageHead } from '@/components/ui/page-head';
import { Ribbon } from '@/components/ui/ribbon';
import { MarginNote, Spread } from '@/components/ui/spread';
import type { EarlyCount, EarlyLine, EarlyView } from '@/lib/analysis/follow-up/early-recurrence';
import { loadEarlyRecurrence } from './load';

export const metadata: Metadata = { title: 'Early recurrence' };

const Count = ({ count }: { count: EarlyCount }) => (
  <CountLink href={count.href} opens={count.opens}>
    {count.text}
  </CountLink>
);

/** '13.0 % (10.7 to 15.7 %)'. */
const within = (value: string, interval: string): string =>
  interval === '' ? value : `${value} (${interval})`;

const columnsOf = (freedom: string): readonly LedgerColumn<EarlyLine>[] => [
  { key: 'band', head: 'Early recurrence', rowHead: true, cell: ({ label }) => label },
  {
    key: 'first',
    head: 'First recorded then',
    kind: 'number',
    cell: ({ first }) => (first ? <Count count={first} /> : ''),
  },
  { key: 'last', head: 'Last recorded then', kind: 'number', cell: ({ last }) => <Count count={last} /> },
  {
    key: 'share',
    head: 'Share, by the last (95\u2009%, Wilson)',
    kind: 'number',
    cell: ({ lastShare }) => within(lastShare.share, lastShare.interval),
  },
  {
    key: 'later',
    head: `${freedom} at 12 months (95\u2009%)`,
    kind: 'number',
    cell: ({ later }) => within(later.value, later.interval),
  },
];

export default async function EarlyRecurrencePage() {
  const view = await loadEarlyRecurrence();
  const back = <LinkButton href="/outcomes">Outcomes</LinkButton>;
  if (!view) {
    return (
      <>
        <PageHead title="Recurrence in the first 90 days" />
        <EmptyState title="The lab has no endpoint definition yet" action={back}>
          <p>Later freedom is read under a stored definition. An administrator stores the first one.</p>
        </EmptyState>
      </>
    );
  }
  return (
    <>
      <PageHead title="Recurrence in the first 90 days" lede={view.sentence} />
      <Ribbon
        items={[{ label: 'Later freedom', value: `${view.definition}: ${view.rules}` }]}
        actions={back}
      />
      <Spread margin={<EarlyMargin view={view} />}>
        <h2>When it was recorded, and what came later</h2>
        <LedgerTable<EarlyLine>
          caption="Early recurrence by band, with freedom at 12 months"
          captionHidden
          rows={view.lines}
          rowKey={({ key }) => key}
          columns={columnsOf(view.freedom)}
        />
        {view.lines.some(({ later }) => later.note !== undefined) ? (
          <ul>
            {view.lines.flatMap(({ key, label, later }) =>
              later.note === undefined
                ? []
                : [
                    <li key={key}>
                      {label}: {later.note}
                    </li>,
                  ],
            )}
          </ul>
        ) : null}
        <p>
          AF, AT or flutter of 30 s or more, or filling the whole tracing, on days 1 to 90. What was recorded
          on day 0 alone may be older than the ablation and is not counted. Later freedom is counted from day
          91 on.
        </p>
      </Spread>
    </>
  );
}

function EarlyMargin({ view }: { view: EarlyView }) {
  const listed = (items: EarlyView['watched']) =>
    items.map(({ label, count }) => ({ term: label, detail: <Count count={count} /> }));
  return (
    <>
      <MarginNote title="Who is behind it">
        <DefinitionList
          counts
          items={[{ term: 'Cases', detail: <Count count={view.considered} /> }, ...listed(view.notEvaluable)]}
        />
      </MarginNote>
      <MarginNote title="How days 1 to 90 were watched">
        <DefinitionList counts items={listed(view.watched)} />
        <p>Who is watched more is found more: compare shares only where the watching is alike.</p>
      </MarginNote>
      <MarginNote title="Before you conclude">
        <p>
          Who recurs early is no chance selection, and some were treated for it: read no effect into the
          distance between the lines. Nothing here says what to do for one patient.
        </p>
      </MarginNote>
    </>
  );
}
