import { MoveCountTable, MoveTable, moveWords } from '@/components/registry/schedule-moves-tables';
import { Pager } from '@/components/ui/pager';
import type { MovesShown } from './load';

/** What a version moves: the counts, and under them the cases of the one that is asked for. */
export function Moves({ moves, base }: { moves: MovesShown; base: string }) {
  const { counts, shown, page, pageSize } = moves;
  const hrefOf = (key: string, of = 1) =>
    `${base}?${new URLSearchParams({ show: key, ...(of > 1 ? { page: String(of) } : {}) })}#cases`;
  const from = (page - 1) * pageSize + 1;
  return (
    <>
      {counts.length === 0 ? (
        <p>No contact of any case moves.</p>
      ) : (
        <MoveCountTable counts={counts} hrefOf={hrefOf} />
      )}
      {shown ? (
        <section>
          <h2 id="cases">{moveWords(shown.count)}</h2>
          <MoveTable caption={moveWords(shown.count)} moves={shown.moves} />
          {shown.count.cases > pageSize ? (
            <Pager
              from={from}
              to={from + shown.moves.length - 1}
              total={shown.count.cases}
              noun="cases"
              previousHref={page > 1 ? hrefOf(shown.key, page - 1) : undefined}
              nextHref={page * pageSize < shown.count.cases ? hrefOf(shown.key, page + 1) : undefined}
            />
          ) : null}
        </section>
      ) : null}
    </>
  );
}

/** 'It moves contacts of 34 of the 1,203 cases that are followed.' */
export function movesSentence({ casesMoved, casesRunning }: MovesShown): string {
  const number = (value: number) => value.toLocaleString('en-GB');
  if (casesMoved === 0) return `Nothing moves in any of the ${number(casesRunning)} cases that are followed.`;
  return `Contacts of ${number(casesMoved)} of the ${number(casesRunning)} cases that are followed move.`;
}
