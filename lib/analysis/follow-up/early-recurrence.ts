import type { CalendarDay } from '../../registry/calendar-day';
import { fromEpochDay } from '../../registry/calendar-day';
import { type Cohort, caseCode } from '../../registry/cohort';
import { EARLY_BANDS, earlyRecurrenceInWords } from '../../registry/early-recurrence';
import type { EndpointDefinition } from '../../registry/endpoint-definition';
import { describeRules } from '../../registry/endpoint-sentence';
import { WINDOW_GRADES } from '../../registry/evidence-grade';
import { estimateWilsonInterval } from '../../statistics/index';
import { endpointWords } from '../outcomes/endpoint-words';
import { freedomInWords } from '../outcomes/estimates-in-words';
import { estimateFreedom } from '../outcomes/freedom-curve';
import {
  countOf as count,
  formatCount,
  formatPercent,
  formatPercentInterval,
} from '../outcomes/numbers-in-words';
import { type EarlyGroups, type EarlySet, groupByEarly, laterRules, membersOf } from './early-groups';

const TWELVE_MONTHS_DAYS = 365;

/** A count that opens its cases. */
export interface EarlyCount {
  readonly text: string;
  readonly href: string;
  readonly opens: string;
}

/** A share of the evaluable cases, with its interval or why there is none. */
interface EarlyShare {
  readonly share: string;
  readonly interval: string;
}

/** One line of the table: no early recurrence, or a band. */
export interface EarlyLine {
  readonly key: string;
  readonly label: string;
  readonly first: EarlyCount | undefined;
  readonly last: EarlyCount;
  /** Share of the evaluable by the last day. */
  readonly lastShare: EarlyShare;
  readonly later: EarlyLater;
}

interface EarlyLater {
  readonly value: string;
  readonly interval: string;
  readonly note: string | undefined;
}

export interface EarlyView {
  readonly definition: string;
  readonly rules: string;
  readonly freedom: string;
  readonly sentence: string;
  readonly lines: readonly EarlyLine[];
  readonly considered: EarlyCount;
  readonly notEvaluable: readonly { readonly label: string; readonly count: EarlyCount }[];
  readonly watched: readonly { readonly label: string; readonly count: EarlyCount }[];
}

/** Early recurrence of the whole lab, and how those with and without it fared later. */
export function earlyRecurrenceView(
  cohort: Cohort,
  definition: EndpointDefinition,
  today: CalendarDay,
): EarlyView {
  const groups = groupByEarly(cohort, definition.rules, today);
  const countOf = (set: EarlySet, opens: string): EarlyCount => ({
    text: formatCount(membersOf(groups, set)?.length ?? 0),
    href: `/outcomes/early-recurrence/cases?set=${set}`,
    opens,
  });
  const sizeOf = (set: EarlySet) => membersOf(groups, set)?.length ?? 0;
  const evaluable = sizeOf('evaluable');
  const found = sizeOf('found');
  const all = shareOf(found, evaluable);
  return {
    definition: `${definition.name}, version ${definition.versionNumber}`,
    rules: describeRules(laterRules(definition.rules)),
    freedom: endpointWords(groups.outcomes.rules).freedom,
    sentence:
      evaluable === 0
        ? 'No case has its first 90 days behind it and a recording in them.'
        : `Early recurrence was recorded in ${formatCount(found)} of ${formatCount(evaluable)} cases: ${all.share} (95\u2009% ${all.interval}).`,
    lines: [
      {
        key: 'none',
        label: 'None recorded',
        first: undefined,
        last: countOf('none', 'cases without early recurrence'),
        lastShare: shareOf(sizeOf('none'), evaluable),
        later: laterOf(groups, 'none'),
      },
      ...EARLY_BANDS.map(({ code, label }) => ({
        key: code,
        label,
        first: countOf(`first-${code}`, `cases first recorded on ${label.toLowerCase()}`),
        last: countOf(`last-${code}`, `cases last recorded on ${label.toLowerCase()}`),
        lastShare: shareOf(sizeOf(`last-${code}`), evaluable),
        later: laterOf(groups, `last-${code}`),
      })),
    ],
    considered: countOf('all', 'all cases that are looked at'),
    notEvaluable: [
      { set: 'not-yet', label: 'whose 90 days are not over' },
      { set: 'not-watched', label: 'without a recording in the 90 days' },
      { set: 'cut-short', label: 'without one before a repeat or death within the 90 days' },
    ].map(({ set, label }) => ({ label, count: countOf(set, `cases ${label}`) })),
    watched: WINDOW_GRADES.filter(({ code }) => code !== 'none' && code !== 'symptoms').map(
      ({ code, label }) => ({ label, count: countOf(`watched-${code}`, `cases watched by ${label}`) }),
    ),
  };
}

function shareOf(count: number, n: number): EarlyShare {
  const interval = estimateWilsonInterval(count, n);
  if (interval.kind === 'notEstimable') return { share: 'not given', interval: 'no case' };
  return {
    share: formatPercent(interval.proportion),
    interval: formatPercentInterval(interval.lower, interval.upper),
  };
}

/** Freedom at 12 months of the analysed cases of a set. */
function laterOf(groups: EarlyGroups, set: EarlySet): EarlyLater {
  const { outcomes, caseIndex } = groups;
  const members = new Set((membersOf(groups, set) ?? []).map((place) => caseIndex[place]));
  const positions = Int32Array.from(
    [...outcomes.caseIndex].flatMap((index, position) => (members.has(index) ? [position] : [])),
  );
  if (positions.length === 0) return { value: 'not given', interval: '', note: 'No case was analysed.' };
  const { value, interval, note } = freedomInWords(
    estimateFreedom(outcomes, positions),
    TWELVE_MONTHS_DAYS,
    outcomes.entryDay,
  );
  const left = members.size - positions.length;
  const out =
    left > 0
      ? `${count(left, 'case')} without a time after day 90 under the definition ${left === 1 ? 'is' : 'are'} not in the freedom.`
      : undefined;
  return { value, interval: interval ?? '', note: [note, out].filter(Boolean).join(' ') || undefined };
}

/** One case of a set. */
export interface EarlyCase {
  readonly procedureId: string;
  readonly code: string;
  readonly performedOn: string;
  readonly early: string;
  readonly watched: string;
}

/** The cases of a set in the order of the cohort; undefined for a set that nobody defined. */
export function earlyCases(
  cohort: Cohort,
  definition: EndpointDefinition,
  today: CalendarDay,
  set: EarlySet,
): EarlyCase[] | undefined {
  const groups = groupByEarly(cohort, definition.rules, today);
  return membersOf(groups, set)?.map((place) => {
    const index = groups.caseIndex[place];
    return {
      procedureId: cohort.procedureId[index],
      code: caseCode(cohort.patientCode[index], cohort.ordinal[index]),
      performedOn: fromEpochDay(cohort.performedOnDay[index]),
      early: earlyRecurrenceInWords(groups.early[place]),
      watched: WINDOW_GRADES.find(({ code }) => code === groups.grades[place])?.label ?? groups.grades[place],
    };
  });
}
