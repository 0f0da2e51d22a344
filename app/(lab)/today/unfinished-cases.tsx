import { UnfinishedCaseTable } from '@/components/registry/unfinished-case-table';
import { CountLink } from '@/components/ui/count-link';
import type { TodayPage } from './load';

const UNFINISHED = '/today/unfinished';

/** Counts of the cases that are not finished, each opening its list; none where there are none. */
export function unfinishedCounts({ drafts, unsigned }: TodayPage) {
  return [
    { count: drafts.total, words: 'cases in draft', href: `${UNFINISHED}?state=draft` },
    { count: unsigned, words: 'cases to sign', href: `${UNFINISHED}?state=entered` },
  ]
    .filter(({ count }) => count > 0)
    .map(({ count, words, href }) => ({
      value: (
        <CountLink href={href} opens="their list">
          <b>{count.toLocaleString('en-GB')}</b> {words}
        </CountLink>
      ),
    }));
}

/** The drafts that wait longest; the rest, and what is to be signed, stand on a page of their own. */
export function UnfinishedCases({ day: { drafts, today } }: { day: TodayPage }) {
  if (drafts.total === 0) return null;
  return (
    <>
      <h2>Cases not finished</h2>
      <UnfinishedCaseTable caption="Cases in draft" cases={drafts.rows} today={today} />
      {drafts.total > drafts.rows.length ? (
        <p>
          <CountLink href={`${UNFINISHED}?state=draft`}>
            All {drafts.total.toLocaleString('en-GB')} in draft
          </CountLink>
        </p>
      ) : null}
    </>
  );
}
