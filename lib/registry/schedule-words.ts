import { type FollowUpSchedule, newestOf } from './schedule-versions';
import { labelOf, STRATEGIES } from './vocabulary';

/** Whom a schedule is for, in words within a sentence: 'all strategies', 'wide encircling'. */
export const scopeWords = (strategy: string | null): string =>
  strategy === null ? 'all strategies' : labelOf(STRATEGIES, strategy).toLowerCase();

/** 'Version 2 for all strategies'. */
export const versionWords = ({ versionNumber, strategy }: FollowUpSchedule): string =>
  `Version ${versionNumber} for ${scopeWords(strategy)}`;

/** One schedule of the lab: its version that plans today, and the one that is to take effect. */
export interface ScheduleLineState<Schedule extends FollowUpSchedule> {
  readonly strategy: string | null;
  /** Null before its first version takes effect. */
  readonly current: Schedule | null;
  /** The newest version, while it has still to take effect; null otherwise. */
  readonly coming: Schedule | null;
}

/** Every schedule of the lab that has a version: the one for all first, then by strategy. */
export function scheduleStates<Schedule extends FollowUpSchedule>(
  schedules: readonly Schedule[],
  today: string,
): ScheduleLineState<Schedule>[] {
  const strategies = [null, ...STRATEGIES.map(({ code }) => code)];
  return strategies.flatMap((strategy) => {
    const line = schedules.filter((schedule) => schedule.strategy === strategy);
    if (line.length === 0) return [];
    const begun = line.filter(({ effectiveOn }) => effectiveOn === null || effectiveOn <= today);
    const [current, newest] = [newestIn(begun), newestIn(line)];
    return [{ strategy, current, coming: newest === current ? null : newest }];
  });
}

function newestIn<Schedule extends FollowUpSchedule>(line: readonly Schedule[]): Schedule | null {
  const newest = line.length === 0 ? null : newestOf(line[0]?.strategy ?? null, line);
  return line.find((schedule) => schedule === newest) ?? null;
}
