import { fromEpochDay } from '../../registry/calendar-day';
import { caseCode } from '../../registry/cohort';
import { placeOfCase } from '../../registry/time-to-event';
import { END_CAUSES, EXCLUSION_REASONS } from '../../registry/time-to-event-causes';
import { explainOutcome } from '../../registry/time-to-event-sentence';
import { casesHref, ESTIMATES, type EstimateName } from './case-links';
import { casesInSet, describeCaseSet, parseCaseSet } from './case-set';
import { endpointWords } from './endpoint-words';
import { freedomInWords, medianInWords } from './estimates-in-words';
import { countOf, formatCount, inSentence } from './numbers-in-words';
import { type OutcomesAnalysis, type Series, TWELVE_MONTHS_DAYS } from './outcomes-analysis';
import { firstText, type SearchParams } from './outcomes-query';
import type { OutcomesQuestion } from './question';

const CASES_PER_PAGE = 50;

/** One case behind a number. */
export interface CaseLine {
  readonly procedureId: string;
  readonly code: string;
  readonly performedOn: string;
  /** Days of follow-up; undefined when the case has none. */
  readonly timeDays: string | undefined;
  /** How its time ended, or why it has none. */
  readonly status: string;
  readonly sentence: string;
}

/** The cases behind one number, one page of them. */
export interface CaseListView {
  readonly title: string;
  /** Which number this list explains and that the count is the same. */
  readonly explains: string;
  readonly total: number;
  readonly from: number;
  readonly to: number;
  readonly lines: readonly CaseLine[];
  readonly previousHref: string | undefined;
  readonly nextHref: string | undefined;
}

/** The list that an address asks for; undefined when it names no set of this analysis. */
export function caseListView(
  question: OutcomesQuestion,
  analysis: OutcomesAnalysis,
  params: SearchParams,
): CaseListView | undefined {
  const set = parseCaseSet(firstText(params.set));
  const scope = firstText(params.of) || undefined;
  const cases = set && casesInSet(analysis, set, scope);
  if (!set || !cases) return undefined;
  const behind = ESTIMATES.find((name) => name === firstText(params.behind));
  const pages = Math.max(1, Math.ceil(cases.length / CASES_PER_PAGE));
  const page = Math.min(pages, Math.max(1, Number.parseInt(firstText(params.page), 10) || 1));
  const start = (page - 1) * CASES_PER_PAGE;
  const shown = cases.slice(start, start + CASES_PER_PAGE);
  const href = (number: number) => `${casesHref(question.query, set, scope, behind)}&page=${number}`;
  const series = [analysis.overall, ...analysis.series].find((one) => one.scope === scope);
  const name = describeCaseSet(analysis, set, scope);
  return {
    title: name,
    explains:
      behind && series && set.kind === 'analysed'
        ? `These ${countOf(cases.length, 'case')} stand behind ${estimateInWords(analysis, series, behind)}. It is an estimate over their follow-up, not a share that can be counted off this list.`
        : `${countOf(cases.length, 'case')}: exactly those counted as "${inSentence(name)}".`,
    total: cases.length,
    from: cases.length === 0 ? 0 : start + 1,
    to: start + shown.length,
    lines: Array.from(shown, (index) => lineOf(analysis, index)),
    previousHref: page > 1 ? href(page - 1) : undefined,
    nextHref: page < pages ? href(page + 1) : undefined,
  };
}

function estimateInWords(analysis: OutcomesAnalysis, series: Series, behind: EstimateName): string {
  const { freedom } = endpointWords(analysis.outcomes.rules);
  const { value, interval } =
    behind === 'median'
      ? medianInWords(series)
      : freedomInWords(series, TWELVE_MONTHS_DAYS, analysis.outcomes.entryDay);
  const what = behind === 'median' ? 'the median time' : `"${inSentence(freedom)} at 12 months"`;
  return `${what}, ${series.label}: ${value}${interval === undefined ? '' : ` (${interval})`}`;
}

function lineOf(analysis: OutcomesAnalysis, index: number): CaseLine {
  const { cohort, outcomes } = analysis;
  const place = placeOfCase(outcomes, index);
  return {
    procedureId: cohort.procedureId[index],
    code: caseCode(cohort.patientCode[index], cohort.ordinal[index]),
    performedOn: fromEpochDay(cohort.performedOnDay[index]),
    timeDays: place?.kind === 'analysed' ? formatCount(outcomes.timeDays[place.position]) : undefined,
    status:
      place === null
        ? 'Outside the cohort'
        : place.kind === 'analysed'
          ? END_CAUSES[outcomes.cause[place.position]].label
          : (EXCLUSION_REASONS.find(({ code }) => code === place.reason)?.label ?? place.reason),
    sentence: explainOutcome(cohort, outcomes, index),
  };
}
