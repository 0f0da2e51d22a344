import type { CalendarDay } from './calendar-day';
import { nominalDay, type PlannedSlot, type ScheduleSlot } from './follow-up-schedule';
import {
  type FollowUpSchedule,
  planUnderVersions,
  type ScheduleVersion,
  versionsFor,
} from './schedule-versions';
import { type FollowedCase, isPlanEnded } from './worklist';

/** What a new version does to one planned contact. */
const SLOT_CHANGES = ['added', 'dropped', 'moved', 'window', 'evidence', 'kind'] as const;
export type SlotChange = (typeof SLOT_CHANGES)[number];

/** One change of one case: the contact as it was planned and as it will be. */
export interface ScheduleMove {
  readonly procedureId: string;
  readonly caseCode: string;
  readonly change: SlotChange;
  readonly before: PlannedSlot | null;
  readonly after: PlannedSlot | null;
}

/** A case with the strategy by which its schedule is found. */
export interface StrategyCase {
  readonly strategy: string | null;
  readonly followed: FollowedCase;
}

/**
 * What moves when the schedules `before` become those of `after`: every contact that is still to come, of every case whose
 * plan runs on `today`, in order of the day on which it was or will be due. Contacts that took place are left out.
 */
export function scheduleMoves(
  cases: readonly StrategyCase[],
  before: readonly FollowUpSchedule[],
  after: readonly FollowUpSchedule[],
  today: CalendarDay,
): ScheduleMove[] {
  const [oldOf, newOf] = [before, after].map(versionsByStrategy);
  return cases
    .filter(({ followed }) => !isPlanEnded(followed, today))
    .flatMap(({ strategy, followed }) => {
      const plans = [oldOf, newOf].map((versionsOf) => awaited(followed, versionsOf(strategy)));
      const { procedureId, caseCode } = followed;
      return movesOfPlan(plans[0] ?? [], plans[1] ?? []).map((move) => ({ procedureId, caseCode, ...move }));
    });
}

function versionsByStrategy(schedules: readonly FollowUpSchedule[]) {
  const known = new Map<string | null, readonly ScheduleVersion[]>();
  return (strategy: string | null): readonly ScheduleVersion[] => {
    const versions = known.get(strategy) ?? versionsFor(strategy, schedules);
    known.set(strategy, versions);
    return versions;
  };
}

function awaited({ performedOn, visits }: FollowedCase, versions: readonly ScheduleVersion[]): PlannedSlot[] {
  const seen = new Set(visits.map(({ slot }) => slot));
  return planUnderVersions(performedOn, versions).filter(({ slot }) => !seen.has(slot.code));
}

type PlanMove = Pick<ScheduleMove, 'change' | 'before' | 'after'>;

/** What differs between two plans of one case. A dropped contact and an added one of its kind whose windows meet are one contact that moves. */
export function movesOfPlan(before: readonly PlannedSlot[], after: readonly PlannedSlot[]): PlanMove[] {
  const byCode = (plan: readonly PlannedSlot[]) =>
    new Map(plan.map((planned) => [planned.slot.code, planned]));
  const [old, next] = [byCode(before), byCode(after)];
  const added = after.filter(({ slot }) => !old.has(slot.code));
  const moves = before.flatMap((was): PlanMove[] => {
    const will = next.get(was.slot.code);
    if (will) return changesOf(was, will).map((change) => ({ change, before: was, after: will }));
    const place = added.findIndex((other) => doMeet(was, other));
    const [moved] = place < 0 ? [] : added.splice(place, 1);
    return [
      moved
        ? { change: 'moved', before: was, after: moved }
        : { change: 'dropped', before: was, after: null },
    ];
  });
  return [...moves, ...added.map((will): PlanMove => ({ change: 'added', before: null, after: will }))].sort(
    (a, b) => compare(dayOf(a), dayOf(b)),
  );
}

const dayOf = ({ before, after }: PlanMove): string => before?.dueOn ?? after?.dueOn ?? '';
const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

function changesOf(was: PlannedSlot, will: PlannedSlot): SlotChange[] {
  const changes: [SlotChange, boolean][] = [
    ['window', was.opensOn !== will.opensOn || was.closesOn !== will.closesOn],
    ['evidence', was.slot.evidence !== will.slot.evidence],
    ['kind', was.slot.kind !== will.slot.kind],
  ];
  return changes.flatMap(([change, isChanged]) => (isChanged ? [change] : []));
}

const doMeet = (a: PlannedSlot, b: PlannedSlot): boolean =>
  a.slot.kind === b.slot.kind && a.opensOn <= b.closesOn && b.opensOn <= a.closesOn;

/** One line of the summary: a change of one contact and how many cases it concerns. */
export interface MoveCount {
  readonly change: SlotChange;
  readonly before: ScheduleSlot | null;
  readonly after: ScheduleSlot | null;
  readonly cases: number;
}

/** Names a line of the summary in an address: 'moved.month-9_30_45_ecg.month-10_30_45_ecg'. */
export const keyOfMove = ({
  change,
  before,
  after,
}: Pick<MoveCount, 'change' | 'before' | 'after'>): string =>
  [change, ...[before, after].map((slot) => (slot ? signOf(slot) : ''))].join('.');

const signOf = ({ code, kind, windowBeforeDays, windowAfterDays, evidence }: ScheduleSlot): string =>
  [code, kind, windowBeforeDays, windowAfterDays, evidence].join('_');

/** The key of the line in which one move is counted. */
export const lineOfMove = ({ change, before, after }: ScheduleMove): string =>
  keyOfMove({ change, before: before?.slot ?? null, after: after?.slot ?? null });

/** How many cases each change concerns, by change, then in the order of the schedule. Each case has a change of a contact once. */
export function countMoves(moves: readonly ScheduleMove[]): MoveCount[] {
  const counts = new Map<string, MoveCount>();
  for (const move of moves) {
    const key = lineOfMove(move);
    const { change, before, after } = move;
    const cases = (counts.get(key)?.cases ?? 0) + 1;
    counts.set(key, { change, before: before?.slot ?? null, after: after?.slot ?? null, cases });
  }
  return [...counts.values()].sort(
    (a, b) => SLOT_CHANGES.indexOf(a.change) - SLOT_CHANGES.indexOf(b.change) || dueOf(a) - dueOf(b),
  );
}

function dueOf({ before, after }: MoveCount): number {
  const slot = before ?? after;
  return slot ? nominalDay(slot) : 0;
}
