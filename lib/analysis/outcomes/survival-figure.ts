import { captionOf } from './caption';
import { casesHref } from './case-links';
import type { DaySet } from './case-set';
import { drawnThrough } from './curve-paths';
import { endpointWords } from './endpoint-words';
import { FEWEST_AT_RISK, freedomInWords } from './estimates-in-words';
import { drawFigure } from './figure-drawing';
import { type FigureTableRow, type LinkedCount, SLOTS, type SurvivalFigureModel } from './figure-model';
import { type DrawingContent, NARROW, WIDE } from './figure-sheet';
import { tickCandidates } from './figure-ticks';
import { formatCount } from './numbers-in-words';
import type { OutcomesAnalysis, Series } from './outcomes-analysis';
import type { OutcomesQuestion } from './question';
import { summarise } from './summary-sentence';
import { type CountsOnDay, countsOnDays } from './tick-counts';

/** Shorter than this and the axis has no room for a second tick. */
const SHORTEST_AXIS_DAYS = 30;

/** The figure of an analysis: drawings, table, sentence and caption, every count with its link. */
export function survivalFigure(
  question: OutcomesQuestion,
  analysis: OutcomesAnalysis,
  today: string,
): SurvivalFigureModel {
  const { outcomes, series } = analysis;
  const words = endpointWords(outcomes.rules);
  const sets: readonly DaySet[] = words.deathCompetes
    ? ['at-risk', 'censored-before', 'events-before', 'died-before']
    : ['at-risk', 'censored-before', 'events-before'];
  const drawn = series.flatMap(({ curve }) => drawnThrough(curve) ?? []);
  const followed = series.flatMap(({ curve }) => curve.timeDays.at(-1) ?? []);
  const lastDay = Math.max(outcomes.entryDay + SHORTEST_AXIS_DAYS, ...(drawn.length > 0 ? drawn : followed));
  const candidates = tickCandidates(outcomes.entryDay, lastDay);
  const days = candidates.map(({ day }) => day);
  const counted = series.map((one) => countsOnDays(outcomes, one, days));
  const linked = (one: Series, on: CountsOnDay): LinkedCount[] =>
    sets.map((set) => ({
      text: formatCount(on.counts[set]),
      href: casesHref(question.query, { kind: set, day: on.day }, one.scope),
      label: `${formatCount(on.counts[set])} ${SET_WORDS[set](words.event)} ${on.day}, ${one.label}`,
    }));
  const content: DrawingContent = {
    series: series.map((one, i) => ({
      slot: SLOTS[i],
      name: one.label,
      curve: one.curve,
      counts: counted[i].map((on) => linked(one, on)),
    })),
    candidates,
    entryDay: outcomes.entryDay,
    blankedThrough: outcomes.firstUnblankedDay - 1,
    lastDay,
    axisTitle: words.freedom,
    riskHead: `at risk (censored, ${words.event === 'failure' ? 'failed' : 'recurred'}${words.deathCompetes ? ', died' : ''})`,
  };
  const drawings =
    drawn.length > 0 ? { wide: drawFigure(content, WIDE), narrow: drawFigure(content, NARROW) } : undefined;
  const tableDays = drawings?.wide.tickDays ?? days;
  return {
    title: `${words.freedom} since the procedure`,
    sentence: summarise(analysis),
    drawings,
    undrawn: undrawnInWords(series),
    caption: captionOf(question, analysis, today),
    countHeads: sets.map((set) => HEADS[set](words.event)),
    table: series.flatMap((one, i) =>
      counted[i]
        .filter(({ day }) => tableDays.includes(day))
        .map((on): FigureTableRow => {
          const freedom = freedomInWords(one, on.day, outcomes.entryDay);
          return {
            key: `${one.scope ?? ''} ${on.day}`,
            group: one.label,
            day: formatCount(on.day),
            freedom: on.day <= outcomes.entryDay ? 'opens' : freedom.value,
            interval: freedom.interval ?? '',
            counts: linked(one, on),
          };
        }),
    ),
  };
}

function undrawnInWords(series: readonly Series[]): string | undefined {
  const missing = series.filter(({ curve }) => drawnThrough(curve) === undefined);
  if (missing.length === 0) return undefined;
  const why = `fewer than ${FEWEST_AT_RISK} are at risk from the start, and a curve of so few would be read as more than it is`;
  return missing.length === series.length
    ? `No curve is drawn: ${why}.`
    : `Not drawn: ${missing.map(({ label }) => label).join(', ')}; ${why}.`;
}

type Event = 'recurrence' | 'failure';

const SET_WORDS: Readonly<Record<DaySet, (event: Event) => string>> = {
  'at-risk': () => 'at risk on day',
  'censored-before': () => 'censored before day',
  'events-before': (event) => `with a ${event} before day`,
  'died-before': () => 'died before day',
  'not-entered': () => 'not yet at risk on day',
};

const HEADS: Readonly<Record<DaySet, (event: Event) => string>> = {
  'at-risk': () => 'At risk',
  'censored-before': () => 'Censored before',
  'events-before': (event) => `With a ${event} before`,
  'died-before': () => 'Died before',
  'not-entered': () => 'Not yet at risk',
};
