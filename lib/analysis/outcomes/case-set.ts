import { placeOfCase, STATUS } from '../../registry/time-to-event';
import { END_CAUSES, EXCLUSION_REASONS } from '../../registry/time-to-event-causes';
import { endpointWords } from './endpoint-words';
import { describeScope, scopeTest } from './grouping';
import { inSentence } from './numbers-in-words';
import type { OutcomesAnalysis } from './outcomes-analysis';

/** Sets named by one word. */
const PLAIN_SETS = [
  'registered',
  'outside',
  'in-cohort',
  'excluded',
  'analysed',
  'events',
  'died',
  'censored',
] as const;
type PlainSet = (typeof PLAIN_SETS)[number];

/** Sets of a day: who stands where on that day. Together they are all analysed cases. */
export const DAY_SETS = [
  'at-risk',
  'events-before',
  'censored-before',
  'died-before',
  'not-entered',
] as const;
export type DaySet = (typeof DAY_SETS)[number];

/** The cases behind one number, as named in an address: never by patient. */
export type CaseSet =
  | { readonly kind: PlainSet }
  | { readonly kind: 'excluded-for' | 'ended-by'; readonly code: string }
  | { readonly kind: DaySet; readonly day: number };

/** The set as it stands in an address: 'analysed', 'excluded-for:death-in-blanking', 'at-risk:365'. */
export function caseSetText(set: CaseSet): string {
  if ('code' in set) return `${set.kind}:${set.code}`;
  return 'day' in set ? `${set.kind}:${set.day}` : set.kind;
}

/** Reads a set from an address; undefined when there is no such set. */
export function parseCaseSet(text: string): CaseSet | undefined {
  const plain = PLAIN_SETS.find((kind) => kind === text);
  if (plain) return { kind: plain };
  const [word, rest = ''] = text.split(':', 2);
  const ofDay = DAY_SETS.find((kind) => kind === word);
  if (ofDay && /^\d{1,6}$/.test(rest)) return { kind: ofDay, day: Number(rest) };
  if (word === 'excluded-for' && EXCLUSION_REASONS.some(({ code }) => code === rest)) {
    return { kind: 'excluded-for', code: rest };
  }
  return word === 'ended-by' && END_CAUSES.some(({ code }) => code === rest)
    ? { kind: 'ended-by', code: rest }
    : undefined;
}

/** Indexes (into the cohort) of the cases in a set, in case order; undefined when the scope does not exist. */
export function casesInSet(
  analysis: OutcomesAnalysis,
  set: CaseSet,
  scope: string | undefined,
): Int32Array | undefined {
  const inScope = scopeTest(analysis.groups, scope);
  return inScope && casesOf(analysis, set).filter(inScope);
}

function casesOf(analysis: OutcomesAnalysis, set: CaseSet): Int32Array {
  const { outcomes, inCohort } = analysis;
  switch (set.kind) {
    case 'registered':
      return everyCase(analysis);
    case 'outside':
      return everyCase(analysis).filter((index) => inCohort[index] === 0);
    case 'in-cohort':
      return everyCase(analysis).filter((index) => inCohort[index] === 1);
    case 'excluded':
      return everyCase(analysis).filter((index) => placeOfCase(outcomes, index)?.kind === 'excluded');
    case 'excluded-for': {
      const reason = EXCLUSION_REASONS.find(({ code }) => code === set.code);
      return reason ? outcomes.excluded[reason.code] : new Int32Array(0);
    }
    default:
      return outcomes.caseIndex.filter((_, position) => isIn(analysis, set, position));
  }
}

const everyCase = ({ cohort }: OutcomesAnalysis): Int32Array =>
  Int32Array.from({ length: cohort.size }, (_, index) => index);

/** Days as the rows under the curve count them: 'before' is before the day; at risk on it is entered and not gone before it. */
function isIn({ outcomes }: OutcomesAnalysis, set: CaseSet, position: number): boolean {
  const status = outcomes.status[position];
  const time = outcomes.timeDays[position];
  switch (set.kind) {
    case 'analysed':
      return true;
    case 'events':
      return status === STATUS.event;
    case 'died':
      return status === STATUS.competingDeath;
    case 'censored':
      return status === STATUS.censored;
    case 'ended-by':
      return END_CAUSES[outcomes.cause[position]].code === set.code;
    case 'at-risk':
      return outcomes.entryDays[position] <= set.day && time >= set.day;
    case 'not-entered':
      return outcomes.entryDays[position] > set.day;
    case 'events-before':
      return status === STATUS.event && time < set.day;
    case 'died-before':
      return status === STATUS.competingDeath && time < set.day;
    case 'censored-before':
      return status === STATUS.censored && time < set.day;
    default:
      return false;
  }
}

/** What a set is, as the title of its list: 'At risk on day 365: Ostial'. */
export function describeCaseSet(analysis: OutcomesAnalysis, set: CaseSet, scope: string | undefined): string {
  const of = scope === undefined ? '' : `: ${describeScope(analysis.groups, scope)}`;
  return `${nameOfSet(analysis, set)}${of}`;
}

function nameOfSet({ outcomes }: OutcomesAnalysis, set: CaseSet): string {
  const { event } = endpointWords(outcomes.rules);
  switch (set.kind) {
    case 'registered':
      return 'Procedures registered';
    case 'outside':
      return 'Outside the cohort';
    case 'in-cohort':
      return 'In the cohort';
    case 'excluded':
      return 'In the cohort, not analysed';
    case 'excluded-for':
      return `Not analysed: ${inSentence(EXCLUSION_REASONS.find(({ code }) => code === set.code)?.label ?? set.code)}`;
    case 'analysed':
      return 'Analysed';
    case 'events':
      return `With a ${event}`;
    case 'died':
      return `Died without a ${event} before`;
    case 'censored':
      return `Without a ${event} as far as known`;
    case 'ended-by':
      return END_CAUSES.find(({ code }) => code === set.code)?.label ?? set.code;
    case 'at-risk':
      return `At risk on day ${set.day}`;
    case 'not-entered':
      return `Not yet at risk on day ${set.day}`;
    case 'events-before':
      return `With a ${event} before day ${set.day}`;
    case 'died-before':
      return `Died before day ${set.day} without a ${event}`;
    case 'censored-before':
      return `Follow-up ended before day ${set.day} without a ${event}`;
  }
}
