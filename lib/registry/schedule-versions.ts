import type { CalendarDay } from './calendar-day';
import { DEFAULT_SLOTS, nominalDay, type PlannedSlot, planOf, type ScheduleSlot } from './follow-up-schedule';

/** One stored version of a schedule. Versions are never changed: a newer one takes over on its day. */
export interface FollowUpSchedule {
  /** The strategy it is for; null = all. */
  readonly strategy: string | null;
  readonly versionNumber: number;
  /** The day from which it plans; null = from the beginning, as the lab's first version does. */
  readonly effectiveOn: CalendarDay | null;
  /** Empty only for a strategy: from then on it follows the schedule for all again. */
  readonly slots: readonly ScheduleSlot[];
}

/** The slots that hold for some cases from a day on, until the next version takes over. */
export interface ScheduleVersion {
  /** null = from the beginning. */
  readonly effectiveOn: CalendarDay | null;
  readonly slots: readonly ScheduleSlot[];
}

/**
 * What holds for a strategy, from the beginning to the last version, in order of days: its own schedule from the day when
 * it takes effect, else the one for all, else the default. Of two versions that take effect on one day the later holds alone.
 */
export function versionsFor(
  strategy: string | null,
  schedules: readonly FollowUpSchedule[],
): ScheduleVersion[] {
  const own = strategy === null ? [] : schedules.filter((schedule) => schedule.strategy === strategy);
  const forAll = schedules.filter((schedule) => schedule.strategy === null);
  const days = [...own, ...forAll].flatMap(({ effectiveOn }) => effectiveOn ?? []);
  const turns: (CalendarDay | null)[] = [null, ...[...new Set(days)].sort()];
  return turns
    .map((effectiveOn) => ({ effectiveOn, slots: slotsOn(effectiveOn, own, forAll) }))
    .filter((version, index, all) => version.slots !== all[index - 1]?.slots);
}

function slotsOn(
  day: CalendarDay | null,
  own: readonly FollowUpSchedule[],
  forAll: readonly FollowUpSchedule[],
): readonly ScheduleSlot[] {
  const hasBegun = ({ effectiveOn }: FollowUpSchedule) =>
    effectiveOn === null || (day !== null && effectiveOn <= day);
  const ownSlots = newest(own.filter(hasBegun))?.slots ?? [];
  return ownSlots.length > 0 ? ownSlots : (newest(forAll.filter(hasBegun))?.slots ?? DEFAULT_SLOTS);
}

const newest = (line: readonly FollowUpSchedule[]): FollowUpSchedule | null =>
  line.reduce<FollowUpSchedule | null>(
    (latest, version) => (latest && latest.versionNumber >= version.versionNumber ? latest : version),
    null,
  );

/** The newest version for a strategy, or for all (null), whether it has taken effect or not; null where there is none. */
export const newestOf = (
  strategy: string | null,
  schedules: readonly FollowUpSchedule[],
): FollowUpSchedule | null => newest(schedules.filter((schedule) => schedule.strategy === strategy));

/**
 * The plan of one procedure under all versions that held for it: a new version replans the future only.
 * What an earlier version has opened before the new one takes effect stays as it was planned, and its code is not planned
 * again. All else follows the new version: its slots whose window opens on its day or later. A slot that the earlier
 * version had still to open, and whose window in the new version would lie open already, opens on that day: nothing falls
 * between two versions.
 */
export function planUnderVersions(
  performedOn: CalendarDay,
  versions: readonly ScheduleVersion[],
): PlannedSlot[] {
  // What took over before the procedure leaves nothing of its predecessors: no window was open yet.
  const first = versions.findLastIndex(
    ({ effectiveOn }) => effectiveOn === null || effectiveOn <= performedOn,
  );
  const [start, ...later] = versions.slice(Math.max(first, 0));
  const plan = planOf(performedOn, start?.slots ?? []);
  if (later.length === 0) return plan;
  return later
    .reduce(
      (before, { effectiveOn, slots }) =>
        replannedFrom(effectiveOn ?? performedOn, before, planOf(performedOn, slots)),
      plan,
    )
    .sort((a, b) => nominalDay(a.slot) - nominalDay(b.slot));
}

function replannedFrom(
  effectiveOn: CalendarDay,
  before: readonly PlannedSlot[],
  after: readonly PlannedSlot[],
): PlannedSlot[] {
  const opened = before.filter(({ opensOn }) => opensOn < effectiveOn);
  const taken = new Set(opened.map(({ slot }) => slot.code));
  const coming = new Set(before.filter(({ opensOn }) => opensOn >= effectiveOn).map(({ slot }) => slot.code));
  const governed = after
    .filter(({ slot, opensOn }) => !taken.has(slot.code) && (opensOn >= effectiveOn || coming.has(slot.code)))
    .map((planned) => (planned.opensOn < effectiveOn ? { ...planned, opensOn: effectiveOn } : planned));
  return [...opened, ...governed];
}
