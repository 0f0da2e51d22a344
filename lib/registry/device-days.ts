import { type CalendarDay, toEpochDay } from './calendar-day';
import { type PackedItem, packRecording } from './rhythm-evidence';
import type { Term } from './vocabulary';

/** Devices that count the seconds of arrhythmia of every day. */
export const DEVICE_KINDS = [
  {
    code: 'implanted-monitor',
    label: 'Implanted monitor',
    definition:
      'A monitor under the skin. It finds AF by its irregular beats and sees little of a regular AT.',
  },
  {
    code: 'pacemaker',
    label: 'Pacemaker',
    definition: 'A pacemaker with an atrial lead. It counts fast atrial beats and does not part AF from AT.',
  },
  {
    code: 'defibrillator',
    label: 'Defibrillator',
    definition:
      'A defibrillator with an atrial lead. It counts fast atrial beats and does not part AF from AT.',
  },
] as const satisfies readonly [Term, ...Term[]];
export type DeviceKind = (typeof DEVICE_KINDS)[number]['code'];

/** What a day can hold at most. */
export const SECONDS_PER_DAY = 86_400;

/** One day as an implanted device counted it. A day without a row was not recorded. */
export interface DeviceDay {
  readonly day: CalendarDay;
  readonly device: DeviceKind;
  /** Seconds of arrhythmia on that day; 0: none. */
  readonly burdenSeconds: number;
  /** Longest episode as far as it lies within the day; null: not given, or none. */
  readonly longestEpisodeSeconds: number | null;
}

/** Consecutive days without arrhythmia, or one day with it. */
export interface DeviceStretch {
  readonly firstDay: CalendarDay;
  readonly lastDay: CalendarDay;
  readonly days: number;
  readonly burdenSeconds: number;
  /** Seconds that count as the longest episode of a day with arrhythmia; null for days without. */
  readonly seconds: number | null;
  /** The longest episode was not given: the day's burden stands for it, and the true one is at most that. */
  readonly isAtMost: boolean;
}

/**
 * Days as they count for evidence, in order: days without arrhythmia that follow each other make one stretch, each day with
 * it stands alone. A stretch ends at a day that was not recorded and before a day of `cuts` (the procedures: what a device
 * recorded before one of them is baseline, and must not hide what it recorded after).
 *
 * Where the longest episode is not given the day's burden stands for it: the true one is at most that. A definition may
 * then count a day whose episodes were each too short, so that recurrence is never found later than it happened; a day whose whole burden is
 * shorter than the minimum surely holds no episode that long. A day filled from end to end is one episode.
 */
export function stretchesOf(days: readonly DeviceDay[], cuts: readonly CalendarDay[] = []): DeviceStretch[] {
  const ordered = [...days].sort((a, b) => toEpochDay(a.day) - toEpochDay(b.day));
  const stretches: DeviceStretch[] = [];
  for (const one of ordered) {
    const open = stretches.at(-1);
    const goesOn =
      open !== undefined &&
      one.burdenSeconds === 0 &&
      open.burdenSeconds === 0 &&
      toEpochDay(one.day) === toEpochDay(open.lastDay) + 1 &&
      !cuts.includes(one.day);
    if (goesOn) stretches[stretches.length - 1] = { ...open, lastDay: one.day, days: open.days + 1 };
    else stretches.push(stretchOf(one));
  }
  return stretches;
}

function stretchOf({ day, burdenSeconds, longestEpisodeSeconds }: DeviceDay): DeviceStretch {
  const own = { firstDay: day, lastDay: day, days: 1, burdenSeconds };
  if (burdenSeconds === 0) return { ...own, seconds: null, isAtMost: false };
  const isFull = burdenSeconds >= SECONDS_PER_DAY;
  const seconds = isFull ? burdenSeconds : (longestEpisodeSeconds ?? burdenSeconds);
  return { ...own, seconds, isAtMost: !isFull && longestEpisodeSeconds === null };
}

/**
 * Device days as packed evidence. The device's own count, which nobody of the lab has seen: source reported. It does not
 * part AF from AT, so what it counts is taken as AF. Whether it was felt is not known.
 */
export function packDeviceDays(
  days: readonly DeviceDay[],
  cuts: readonly CalendarDay[],
  since: (day: CalendarDay) => number,
): PackedItem[] {
  return stretchesOf(days, cuts).map(({ firstDay, lastDay, burdenSeconds, seconds, isAtMost }) =>
    packRecording({
      day: since(firstDay),
      endDay: since(lastDay),
      recordedToDay: since(lastDay),
      rhythm: seconds === null ? 'sinus' : 'af',
      grade: 'continuous',
      seconds,
      wholeTracing: burdenSeconds >= SECONDS_PER_DAY,
      symptomatic: false,
      seen: false,
      isDayByDay: true,
      isAtMost,
    }),
  );
}
