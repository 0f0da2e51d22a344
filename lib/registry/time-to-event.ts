import type { Cohort } from './cohort';
import { checkEndpointRules } from './endpoint-contradictions';
import type { EndpointRules } from './endpoint-rules';
import { CaseDerivation } from './time-to-event-case';
import { EXCLUSION_REASONS, type ExclusionReason } from './time-to-event-causes';

/** Values of `DerivedOutcomes.status`. */
export const STATUS = { censored: 0, event: 1, competingDeath: 2 } as const;

/**
 * One lab's cases under one endpoint definition. Columns share positions: position p is one analysed case; positions
 * follow case order, so `caseIndex` rises. Days count from the procedure that opens the clock (day 0).
 */
export interface DerivedOutcomes {
  readonly rules: EndpointRules;
  /** u: the first day after blanking. Events and qualifying recordings before it do not count; death does. */
  readonly firstUnblankedDay: number;
  /**
   * Day on which the risk set opens, the same for every case: u - 1, or 0 when death is a failure or competing. A case
   * is at risk on days after it. 0 means observed from the procedure on, day 0 included: estimates then need no
   * delayed entry.
   */
  readonly entryDay: number;
  /** Cases looked at: the cohort, or the part of it that the filter lets through. analysed + excluded = considered. */
  readonly considered: number;
  readonly analysed: number;
  /** Index of the case in the cohort's columns. */
  readonly caseIndex: Int32Array;
  /** `entryDay`, per case. */
  readonly entryDays: Int32Array;
  /** Day of the event, or of the last qualifying negative recording. */
  readonly timeDays: Int32Array;
  /** 0 censored, 1 event, 2 competing death: STATUS. */
  readonly status: Uint8Array;
  /** Index into END_CAUSES. */
  readonly cause: Uint8Array;
  /**
   * For the interval-censored estimate: the event lies in (left, right]; exact when left = right; right = -1 when it
   * is not known to have happened by `left`. Left is the last qualifying negative on a day before a recorded event, at
   * least the last blanked day. A competing death is right-censored there at the last qualifying negative.
   */
  readonly intervalLeft: Int32Array;
  readonly intervalRight: Int32Array;
  /** Offset into `cohort.evidence` of the item that ended the time; -1 when a drug taken on, a repeat or a death did. */
  readonly decidingItem: Int32Array;
  /** Cases without a time, by reason, in case order; every reason has an entry. */
  readonly excluded: Readonly<Record<ExclusionReason, Int32Array>>;
}

/**
 * Derives entry, time, status, cause and interval of every case under a definition, or the reason why it has none.
 * One pass over the packed evidence, nothing allocated per case. The rules: docs/methods/endpoint.md.
 *
 * @param caseFilter one byte per case of the cohort; 0 leaves the case out (neither analysed nor excluded).
 * @throws RangeError when the rules contradict each other or the filter is not as long as the cohort.
 */
export function deriveOutcomes(
  cohort: Cohort,
  rules: EndpointRules,
  caseFilter?: Uint8Array,
): DerivedOutcomes {
  const refused = checkEndpointRules(rules).find((finding) => finding.kind === 'refusal');
  if (refused) throw new RangeError(`contradictory endpoint rules: ${refused.field}: ${refused.message}`);
  if (caseFilter && caseFilter.length !== cohort.size) {
    throw new RangeError(`case filter has ${caseFilter.length} entries, the cohort ${cohort.size} cases`);
  }
  const one = new CaseDerivation(cohort, rules);
  const caseIndex = new Int32Array(cohort.size);
  const timeDays = new Int32Array(cohort.size);
  const status = new Uint8Array(cohort.size);
  const cause = new Uint8Array(cohort.size);
  const intervalLeft = new Int32Array(cohort.size);
  const intervalRight = new Int32Array(cohort.size);
  const decidingItem = new Int32Array(cohort.size);
  /** Per case: 1 + index of the exclusion reason; 0 for the others. */
  const excludedBy = new Uint8Array(cohort.size);
  const excludedCounts = EXCLUSION_REASONS.map(() => 0);
  let analysed = 0;
  let considered = 0;
  for (let index = 0; index < cohort.size; index++) {
    if (caseFilter && caseFilter[index] === 0) continue;
    considered++;
    if (!one.derive(index)) {
      excludedBy[index] = one.exclusion + 1;
      excludedCounts[one.exclusion] += 1;
      continue;
    }
    caseIndex[analysed] = index;
    timeDays[analysed] = one.timeDays;
    status[analysed] = one.status;
    cause[analysed] = one.cause;
    intervalLeft[analysed] = one.intervalLeft;
    intervalRight[analysed] = one.intervalRight;
    decidingItem[analysed] = one.decidingItem;
    analysed++;
  }
  return {
    rules,
    firstUnblankedDay: one.firstUnblankedDay,
    entryDay: one.entryDay,
    considered,
    analysed,
    caseIndex: caseIndex.subarray(0, analysed),
    entryDays: new Int32Array(analysed).fill(one.entryDay),
    timeDays: timeDays.subarray(0, analysed),
    status: status.subarray(0, analysed),
    cause: cause.subarray(0, analysed),
    intervalLeft: intervalLeft.subarray(0, analysed),
    intervalRight: intervalRight.subarray(0, analysed),
    decidingItem: decidingItem.subarray(0, analysed),
    excluded: excludedLists(excludedBy, excludedCounts),
  };
}

function excludedLists(
  excludedBy: Uint8Array,
  counts: readonly number[],
): Record<ExclusionReason, Int32Array> {
  const lists = counts.map((count) => new Int32Array(count));
  const filled = counts.map(() => 0);
  for (let index = 0; index < excludedBy.length; index++) {
    const reason = excludedBy[index] - 1;
    if (reason < 0) continue;
    lists[reason][filled[reason]] = index;
    filled[reason] += 1;
  }
  const at = (code: ExclusionReason) => lists[EXCLUSION_REASONS.findIndex((term) => term.code === code)];
  return {
    'not-first-procedure': at('not-first-procedure'),
    'not-last-procedure': at('not-last-procedure'),
    'repeat-in-blanking': at('repeat-in-blanking'),
    'death-in-blanking': at('death-in-blanking'),
    'no-recording-before-repeat': at('no-recording-before-repeat'),
    'no-recording-before-death': at('no-recording-before-death'),
    'drug-status-unknown-after-blanking': at('drug-status-unknown-after-blanking'),
    'no-recording-after-blanking': at('no-recording-after-blanking'),
  };
}

/** What became of one case of the cohort: its position in the columns, its reason, or null when the filter left it out. */
export type CasePlace =
  | { readonly kind: 'analysed'; readonly position: number }
  | { readonly kind: 'excluded'; readonly reason: ExclusionReason };

/** Finds a case in derived outcomes, by halving: both kinds of lists rise. */
export function placeOfCase(outcomes: DerivedOutcomes, index: number): CasePlace | null {
  const position = indexOfSorted(outcomes.caseIndex, index);
  if (position >= 0) return { kind: 'analysed', position };
  for (const { code } of EXCLUSION_REASONS) {
    if (indexOfSorted(outcomes.excluded[code], index) >= 0) return { kind: 'excluded', reason: code };
  }
  return null;
}

function indexOfSorted(sorted: Int32Array, value: number): number {
  let low = 0;
  let high = sorted.length - 1;
  while (low <= high) {
    const middle = (low + high) >> 1;
    if (sorted[middle] === value) return middle;
    if (sorted[middle] < value) low = middle + 1;
    else high = middle - 1;
  }
  return -1;
}
