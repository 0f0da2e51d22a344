import type { Metadata } from 'next';
import { Fragment } from 'react';
import { spellDay } from '@/components/forms/day-text';
import { FindPatient } from '@/components/registry/find-patient';
import { OpenComplicationTable } from '@/components/registry/open-complication-table';
import { WorklistTable } from '@/components/registry/worklist-table';
import { BigNumber } from '@/components/ui/big-number';
import { LinkButton } from '@/components/ui/button';
import { CountLink } from '@/components/ui/count-link';
import { EmptyState } from '@/components/ui/empty-state';
import { PageHead } from '@/components/ui/page-head';
import { Pager } from '@/components/ui/pager';
import { Ribbon } from '@/components/ui/ribbon';
import { MarginNote, Spread } from '@/components/ui/spread';
import { findPatient } from '../cases/actions';
import { loadToday, type ShownState, type TodayPage } from './load';
import { UnfinishedCases, unfinishedCounts } from './unfinished-cases';

export const metadata: Metadata = { title: 'Today' };

interface PageProps {
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

const WORDS: Record<ShownState, string> = {
  overdue: 'overdue',
  'in-window': 'in their window',
  upcoming: 'opening within 30 days',
  missed: 'missed',
};
const hrefOf = (show: ShownState | undefined, page = 1) => {
  const query = new URLSearchParams({
    ...(show ? { show } : {}),
    ...(page > 1 ? { page: String(page) } : {}),
  });
  return query.size > 0 ? `/today?${query}` : '/today';
};

export default async function Today({ searchParams }: PageProps) {
  const day = await loadToday(await searchParams);
  const { show, counts, items, total, from, page } = day;
  return (
    <>
      <PageHead title={spellDay(day.today)} lede={ledeOf(day)} />
      <Ribbon
        items={[
          ...(['overdue', 'in-window', 'upcoming'] as const).map((state) => ({
            value: (
              <CountLink href={hrefOf(state)} opens={`the follow-ups ${WORDS[state]}`}>
                <b>{counts[state].toLocaleString('en-GB')}</b> {WORDS[state]}
              </CountLink>
            ),
          })),
          ...complicationCounts(day),
          ...unfinishedCounts(day),
        ]}
        actions={show ? <LinkButton href="/today">All that need someone</LinkButton> : null}
      />
      <Spread margin={<TodayMargin day={day} />}>
        <FindPatient find={findPatient} />
        <h2>{show ? `Follow-ups ${WORDS[show]}` : 'Most urgent first'}</h2>
        {items.length === 0 ? (
          <NothingToDo day={day} />
        ) : (
          <WorklistTable
            caption={show ? `Follow-ups ${WORDS[show]}` : 'Follow-ups that need someone, most urgent first'}
            items={items}
            mayEnter={day.mayEnter}
          />
        )}
        {total > items.length ? (
          <Pager
            from={from}
            to={from + items.length - 1}
            total={total}
            noun="follow-ups"
            previousHref={page > 1 ? hrefOf(show, page - 1) : undefined}
            nextHref={day.hasNext ? hrefOf(show, page + 1) : undefined}
          />
        ) : null}
        {show === undefined && page === 1 ? (
          <>
            <OpenComplications day={day} />
            <UnfinishedCases day={day} />
          </>
        ) : null}
      </Spread>
    </>
  );
}

const OPEN_LISTS = [
  { list: 'toAdjudicate', words: 'to adjudicate', at: 'to-adjudicate', toDo: 'adjudicate' },
  { list: 'unresolved', words: 'not yet resolved', at: 'not-resolved', toDo: 'follow' },
] as const;
const SHOWN_COMPLICATIONS = 5;

function complicationCounts(day: TodayPage) {
  return OPEN_LISTS.filter(({ list }) => day[list].length > 0).map(({ list, words, at }) => ({
    value: (
      <CountLink href={`/today/complications#${at}`} opens="their list">
        <b>{day[list].length.toLocaleString('en-GB')}</b> complications {words}
      </CountLink>
    ),
  }));
}

/** The first complications of each list; the rest stand on a page of their own. */
function OpenComplications({ day }: { day: TodayPage }) {
  return OPEN_LISTS.filter(({ list }) => day[list].length > 0).map(({ list, words, at, toDo }) => (
    <Fragment key={list}>
      <h2 id={at}>Complications {words}</h2>
      <OpenComplicationTable
        caption={`Complications ${words}`}
        complications={day[list].slice(0, SHOWN_COMPLICATIONS)}
        today={day.today}
        toDo={toDo}
        viewerId={day.viewerId}
      />
      {day[list].length > SHOWN_COMPLICATIONS ? (
        <p>
          <CountLink href={`/today/complications#${at}`}>
            All {day[list].length.toLocaleString('en-GB')} {words}
          </CountLink>
        </p>
      ) : null}
    </Fragment>
  ));
}

function ledeOf({ counts, closingThisWeek }: TodayPage): string {
  const needed = counts.overdue + counts['in-window'];
  if (needed === 0) return 'No follow-up needs anybody today.';
  const first = needed === 1 ? 'One follow-up needs someone.' : `${needed} follow-ups need someone.`;
  if (closingThisWeek === 0) return first;
  return `${first} ${closingThisWeek === 1 ? 'One window closes' : `${closingThisWeek} windows close`} within a week.`;
}

function NothingToDo({ day }: { day: TodayPage }) {
  const next = day.nextOpensOn === null ? null : spellDay(day.nextOpensOn);
  return (
    <EmptyState title={day.show ? `No follow-up is ${WORDS[day.show]}` : 'Nothing is due'}>
      <p>
        {day.cases === 0
          ? 'No case is registered yet. Register a patient under Cases; the plan follows from the procedure.'
          : next === null
            ? 'No further follow-up is planned for any case.'
            : `The next window opens on ${next}.`}
      </p>
    </EmptyState>
  );
}

function TodayMargin({ day }: { day: TodayPage }) {
  return (
    <>
      <MarginNote title="Missed">
        <BigNumber
          value={day.counts.missed.toLocaleString('en-GB')}
          href={hrefOf('missed')}
          opens="the follow-ups missed"
        >
          planned contacts or recordings that cannot be made good any more: the next window has opened. They
          are counted, not chased.
        </BigNumber>
      </MarginNote>
      <MarginNote title="How the list is made">
        <p>
          {day.cases.toLocaleString('en-GB')} cases are planned by the lab’s schedule; the plan of{' '}
          {day.ended.toLocaleString('en-GB')} has ended by death, withdrawal, transfer or a next procedure.
          Overdue safety calls stand first, then windows that close within a week, then overdue visits.
        </p>
        <p>
          A visit stays on the list until the recording that the schedule asks for is there: entered with the
          visit, or any that covers a day of its window.
        </p>
        <p>This list is no alarm service.</p>
      </MarginNote>
    </>
  );
}
