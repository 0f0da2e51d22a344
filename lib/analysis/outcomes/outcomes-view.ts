import { casesHref } from './case-links';
import type { CaseSet } from './case-set';
import { describeFilter } from './cohort-filter';
import { endpointWords } from './endpoint-words';
import {
  deathBeforeEventInWords,
  type EstimateWords,
  freedomInWords,
  medianInWords,
} from './estimates-in-words';
import type { LinkedCount, SurvivalFigureModel } from './figure-model';
import { flowOf } from './flow';
import { describeScope, NOT_DRAWN, NOT_RECORDED } from './grouping';
import { countOf, formatCount, formatP } from './numbers-in-words';
import { type OutcomesAnalysis, type Series, TWELVE_MONTHS_DAYS } from './outcomes-analysis';
import type { OutcomesQuestion } from './question';
import { survivalFigure } from './survival-figure';

/** An estimate that opens its analysis set. */
export interface LinkedEstimate extends EstimateWords {
  readonly href: string;
  /** What the link opens. */
  readonly opens: string;
}

/** One line of the table by group. */
export interface GroupLine {
  readonly key: string;
  readonly label: string;
  readonly analysed: LinkedCount;
  readonly events: LinkedCount;
  readonly died: LinkedCount | undefined;
  readonly censored: LinkedCount;
  readonly twelveMonths: LinkedEstimate;
  readonly median: LinkedEstimate;
}

interface FlowView {
  readonly label: string;
  readonly count: LinkedCount;
  readonly depth: 0 | 1;
  readonly minus: boolean;
}

/** Everything the page shows, in words, with links. */
export interface OutcomesView {
  readonly cohort: string;
  readonly event: 'recurrence' | 'failure';
  readonly freedom: string;
  readonly analysedCount: number;
  readonly figure: SurvivalFigureModel;
  readonly twelveMonths: LinkedEstimate;
  /** Only when death competes. */
  readonly deathBefore: EstimateWords | undefined;
  readonly flow: readonly FlowView[];
  readonly groups: readonly GroupLine[];
  /** Analysed cases that no curve shows: not recorded, or in a group beyond the five. */
  readonly apart: readonly { readonly label: string; readonly count: LinkedCount }[];
  /** The crude test and why not to conclude from it; only with groups. */
  readonly comparison: string | undefined;
  readonly cautions: readonly string[];
}

/** Puts an analysis into words and links. `today` is 'YYYY-MM-DD'. */
export function outcomesView(
  question: OutcomesQuestion,
  analysis: OutcomesAnalysis,
  today: string,
): OutcomesView {
  const { outcomes, overall, groups } = analysis;
  const { event, freedom } = endpointWords(outcomes.rules);
  const link = (count: number, words: string, set: CaseSet, scope?: string | undefined): LinkedCount => ({
    text: formatCount(count),
    href: casesHref(question.query, set, scope),
    label: `${formatCount(count)} ${words}`,
  });
  const apart = [
    { scope: NOT_RECORDED, count: analysis.notRecordedCount },
    { scope: NOT_DRAWN, count: analysis.notDrawnCount },
  ]
    .filter(({ count }) => count > 0)
    .map(({ scope, count }) => {
      const label = describeScope(groups, scope);
      return { label, count: link(count, label, { kind: 'analysed' }, scope) };
    });
  const lines = groups.grouping === 'none' ? [overall] : [...analysis.series, overall];
  return {
    cohort: describeFilter(analysis.filter),
    event,
    freedom,
    analysedCount: outcomes.analysed,
    figure: survivalFigure(question, analysis, today),
    twelveMonths: twelveMonthsOf(question, analysis, overall),
    deathBefore: deathBeforeEventInWords(overall, TWELVE_MONTHS_DAYS),
    flow: flowOf(analysis).map(({ label, count, set, depth, minus }) => ({
      label,
      count: link(count, label, set),
      depth,
      minus,
    })),
    groups: lines.map((series) => groupLine(question, analysis, series, link)),
    apart,
    comparison: comparisonInWords(analysis),
    cautions: cautionsOf(analysis),
  };
}

type Link = (count: number, words: string, set: CaseSet, scope?: string | undefined) => LinkedCount;

function groupLine(
  question: OutcomesQuestion,
  analysis: OutcomesAnalysis,
  series: Series,
  link: Link,
): GroupLine {
  const { scope, label, curve, competingTotal } = series;
  const { event, deathCompetes } = endpointWords(analysis.outcomes.rules);
  const censored = curve.n - curve.eventTotal - competingTotal;
  return {
    key: scope ?? 'all',
    label,
    analysed: link(curve.n, `analysed, ${label}`, { kind: 'analysed' }, scope),
    events: link(curve.eventTotal, `with a ${event}, ${label}`, { kind: 'events' }, scope),
    died: deathCompetes
      ? link(competingTotal, `died without a ${event}, ${label}`, { kind: 'died' }, scope)
      : undefined,
    censored: link(censored, `without a ${event} as far as known, ${label}`, { kind: 'censored' }, scope),
    twelveMonths: twelveMonthsOf(question, analysis, series),
    median: {
      ...medianInWords(series),
      href: casesHref(question.query, { kind: 'analysed' }, scope, 'median'),
      opens: `the ${countOf(curve.n, 'case')} behind the median, ${label}`,
    },
  };
}

function twelveMonthsOf(
  question: OutcomesQuestion,
  analysis: OutcomesAnalysis,
  series: Series,
): LinkedEstimate {
  return {
    ...freedomInWords(series, TWELVE_MONTHS_DAYS, analysis.outcomes.entryDay),
    href: casesHref(question.query, { kind: 'analysed' }, series.scope, 'twelve-months'),
    opens: `the ${countOf(series.curve.n, 'case')} behind the 12-month value, ${series.label}`,
  };
}

function comparisonInWords({ logRank, outcomes, patientsWithSeveral }: OutcomesAnalysis): string | undefined {
  if (!logRank) return undefined;
  if (logRank.kind === 'notEstimable')
    return `The groups are not tested against each other: ${logRank.reason}`;
  const { chiSquare, degreesOfFreedom, pValue } = logRank;
  const degrees = countOf(degreesOfFreedom, 'degree of freedom', 'degrees of freedom');
  return [
    `Crude log-rank test: chi-square ${chiSquare.toFixed(2)} on ${degrees}, ${formatP(pValue)}.`,
    outcomes.rules.deathRule === 'competing'
      ? 'It compares rates among the living: deaths censor in it.'
      : '',
    patientsWithSeveral > 0 ? 'It takes several cases of one patient as independent.' : '',
    'It says how far chance alone explains the distance between the curves, not why they differ: nobody was assigned to a group by chance, and patients, operators and years differ between groups. Do not read a difference here as an effect.',
  ]
    .filter((part) => part !== '')
    .join(' ');
}

function cautionsOf({ outcomes }: OutcomesAnalysis): string[] {
  const { event } = endpointWords(outcomes.rules);
  return [
    `Free means that none was recorded. Between recordings an arrhythmia goes unseen, and a ${event} counts from the day it was recorded.`,
    'Whoever was lost is taken to fare like those still followed. If the well stay away, the curve is too low; if the ill do, it is too high.',
  ];
}
