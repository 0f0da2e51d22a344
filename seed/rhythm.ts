import type { Rhythm } from '../lib/registry/vocabulary';
import type { LabDay } from './calendar';
import { dayOfHazard } from './hazard';
import { DETECTION, type Delivered, RECURRENCE } from './parameters';
import type { RandomStream } from './random';

type Arrhythmia = Extract<Rhythm, 'af' | 'at' | 'afl-atypical' | 'afl-typical' | 'afl-typical-confirmed'>;

/** A stretch of time in which recurrence is present. */
export interface Recurrence {
  readonly firstDay: LabDay;
  /** Infinity: until treated. */
  readonly lastDay: LabDay;
  readonly rhythm: Arrhythmia;
  /** Without pause, or coming and going. */
  readonly sustained: boolean;
  /** The day on which symptoms bring the patient in; null when they do not. */
  readonly presentsOn: LabDay | null;
}

/** What truly happens to the rhythm after one procedure, seen by nobody yet. */
export interface RhythmCourse {
  /** Within blanking; over before it ends. */
  readonly early: Recurrence | null;
  /** The first recurrence after blanking. Everybody has one if they live long enough; most lie beyond the lab's last day. */
  readonly late: Recurrence;
}

/** Draws the true course after a procedure on `day`. `logRisk`: hazard.ts, the strategy left out. */
export function drawRhythm(
  stream: RandomStream,
  day: LabDay,
  logRisk: number,
  delivered: Delivered,
): RhythmCourse {
  const onset = dayOfHazard(stream.exponential(1), logRisk, delivered);
  const late = drawRecurrence(stream, delivered, day + Math.ceil(onset), Number.POSITIVE_INFINITY);
  const isLateSoon = onset <= 455;
  const { earlyShare } = RECURRENCE;
  if (!stream.happens(isLateSoon ? earlyShare.withLate : earlyShare.withoutLate))
    return { early: null, late };
  // The later in blanking, the more often it is the beginning of the late one.
  const earlyDay = 1 + Math.floor(84 * stream.uniform() ** (isLateSoon ? 0.8 : 1.8));
  const lastDay = Math.min(88, earlyDay + Math.floor(stream.exponential(9)));
  return { early: drawRecurrence(stream, delivered, day + earlyDay, day + lastDay), late };
}

const AT_AFL_KINDS: Record<Exclude<Arrhythmia, 'af'>, number> = {
  at: 0.5,
  'afl-atypical': 0.32,
  'afl-typical': 0.12,
  'afl-typical-confirmed': 0.06,
};

function drawRecurrence(
  stream: RandomStream,
  delivered: Delivered,
  firstDay: LabDay,
  lastDay: LabDay,
): Recurrence {
  const rhythm = stream.happens(RECURRENCE.atAflShare[delivered]) ? stream.choose(AT_AFL_KINDS) : 'af';
  const sustained = stream.happens(RECURRENCE.sustainedShare);
  const { share, meanDelayDays } = DETECTION.symptomDriven;
  const isFelt = stream.happens(share);
  const delay = Math.floor(stream.exponential(meanDelayDays));
  const presentsOn = isFelt && firstDay + delay <= lastDay ? firstDay + delay : null;
  return { firstDay, lastDay, rhythm, sustained, presentsOn };
}
