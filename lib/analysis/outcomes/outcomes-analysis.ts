import type { Cohort } from '../../registry/cohort';
import type { EndpointRules } from '../../registry/endpoint-rules';
import { type DerivedOutcomes, deriveOutcomes, STATUS } from '../../registry/time-to-event';
import { type LogRankTest, type NotEstimable, testLogRank } from '../../statistics/index';
import { type CohortFilter, maskOfFilter } from './cohort-filter';
import { estimateFreedom, type FreedomCurve } from './freedom-curve';
import {
  type CaseGroups,
  type Grouping,
  groupCases,
  NOT_DRAWN,
  NOT_RECORDED,
  scopeOfGroup,
  scopeTest,
} from './grouping';

/** The days at which freedom is quoted. */
export const TWELVE_MONTHS_DAYS = 365;

/** One curve of the figure: a group, or all cases. */
export interface Series extends FreedomCurve {
  /** Which cases, as case sets name it; undefined = all. */
  readonly scope: string | undefined;
  readonly label: string;
}

/** All numbers of the page, before any is put into words or drawn. */
export interface OutcomesAnalysis {
  readonly cohort: Cohort;
  readonly filter: CohortFilter;
  /** One byte per case: 1 when the filter lets it through. */
  readonly inCohort: Uint8Array;
  readonly outcomes: DerivedOutcomes;
  readonly groups: CaseGroups;
  readonly overall: Series;
  /** What is drawn: the groups in order, or `overall` alone. */
  readonly series: readonly Series[];
  /** Analysed cases outside the groups drawn. */
  readonly notRecordedCount: number;
  readonly notDrawnCount: number;
  /**
   * Equal hazards of the event in the groups drawn (deaths that compete censor: hazards of the event's own cause).
   * Undefined without groups.
   */
  readonly logRank: LogRankTest | NotEstimable | undefined;
  /** Patients with more than one analysed case: their cases are not independent. */
  readonly patientsWithSeveral: number;
}

/**
 * From a lab's cases to curves under one endpoint definition.
 * @throws RangeError when the rules contradict each other.
 */
export function analyseOutcomes(
  cohort: Cohort,
  rules: EndpointRules,
  filter: CohortFilter,
  grouping: Grouping,
): OutcomesAnalysis {
  const inCohort = maskOfFilter(cohort, filter);
  const outcomes = deriveOutcomes(cohort, rules, inCohort);
  const groups = groupCases(cohort, grouping, outcomes.caseIndex);
  const all = Int32Array.from({ length: outcomes.analysed }, (_, position) => position);
  const positionsIn = (scope: string | undefined): Int32Array => {
    const belongs = scopeTest(groups, scope);
    return all.filter((position) => belongs?.(outcomes.caseIndex[position]) ?? false);
  };
  const overall: Series = { ...estimateFreedom(outcomes, all), scope: undefined, label: 'All cases' };
  const series = groups.groups.map(({ code, label }): Series => {
    const scope = scopeOfGroup(code);
    return { ...estimateFreedom(outcomes, positionsIn(scope)), scope, label };
  });
  return {
    cohort,
    filter,
    inCohort,
    outcomes,
    groups,
    overall,
    series: grouping === 'none' ? [overall] : series,
    notRecordedCount: positionsIn(NOT_RECORDED).length,
    notDrawnCount: positionsIn(NOT_DRAWN).length,
    logRank: grouping === 'none' ? undefined : compareGroups(outcomes, groups),
    patientsWithSeveral: countPatientsWithSeveral(cohort, outcomes),
  };
}

function compareGroups(outcomes: DerivedOutcomes, groups: CaseGroups): LogRankTest | NotEstimable {
  const drawn = outcomes.caseIndex
    .map((caseIndex, position) => (groups.groupOfCase[caseIndex] >= 0 ? position : -1))
    .filter((position) => position >= 0);
  const data = {
    timeDays: drawn.map((position) => outcomes.timeDays[position]),
    event: drawn.map((position) => (outcomes.status[position] === STATUS.event ? 1 : 0)),
    group: drawn.map((position) => groups.groupOfCase[outcomes.caseIndex[position]]),
  };
  const entryDays = drawn.map((position) => outcomes.entryDays[position]);
  return testLogRank(outcomes.entryDay === 0 ? data : { ...data, entryDays }, {
    groupCount: Math.max(1, groups.groups.length),
  });
}

function countPatientsWithSeveral(cohort: Cohort, outcomes: DerivedOutcomes): number {
  const seen = new Map<number, number>();
  for (const caseIndex of outcomes.caseIndex) {
    const patient = cohort.patientIndex[caseIndex];
    seen.set(patient, (seen.get(patient) ?? 0) + 1);
  }
  return [...seen.values()].filter((count) => count > 1).length;
}
