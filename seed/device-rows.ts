import type { BulkPatient } from '../lib/records/bulk-load';
import { addDays, type CalendarDay, daysBetween } from '../lib/registry/calendar-day';
import { SECONDS_PER_DAY } from '../lib/registry/device-days';
import { type RandomStream, streamOf } from './random';

type DeviceRow = BulkPatient['deviceDays'][number];
type RecordingRow = BulkPatient['recordings'][number];

/** Share of days with a shorter episode after the first one that a reading found. */
const LATER_DAY_SHARE = 0.12;
/** Share of devices that give no longest episode, only the burden. */
const BURDEN_ONLY_SHARE = 0.3;

/**
 * What the patient's device counted day by day, told from its readings: each day that a reading covers, none where it
 * found nothing. A first episode is on the day that the reading says, so that days and reading give the same recurrence.
 */
export function deviceDaysOf(
  seed: number,
  index: number,
  patientId: string,
  cases: readonly { readonly performedOn: CalendarDay; readonly recordings: readonly RecordingRow[] }[],
): DeviceRow[] {
  const stream = streamOf(seed, 'device', index);
  const device = stream.choose({ 'implanted-monitor': 0.7, pacemaker: 0.25, defibrillator: 0.05 });
  const isBurdenOnly = stream.happens(BURDEN_ONLY_SHARE);
  return cases
    .flatMap(({ performedOn, recordings }) =>
      recordings
        .filter(({ kind }) => kind === 'implanted')
        .flatMap((reading) => daysOfReading(stream, reading, performedOn)),
    )
    .map(({ day, burdenSeconds, longest }) => ({
      patientId,
      day,
      device,
      burdenSeconds,
      longestEpisodeSeconds: isBurdenOnly || longest === 0 ? null : longest,
    }));
}

function daysOfReading(stream: RandomStream, reading: RecordingRow, performedOn: CalendarDay) {
  const { startedOn, endedOn, episodeStartedOn } = reading;
  const found = reading.longestEpisodeSeconds ?? 0;
  let left = found;
  return Array.from({ length: daysBetween(startedOn, endedOn) + 1 }, (_, i) => {
    const day = addDays(startedOn, i);
    if (!episodeStartedOn || day < episodeStartedOn) return { day, burdenSeconds: 0, longest: 0 };
    if (left > 0) {
      const longest = Math.min(left, SECONDS_PER_DAY);
      left -= longest;
      const others = Math.floor((SECONDS_PER_DAY - longest) * 0.1 * stream.uniform());
      return { day, burdenSeconds: longest + others, longest };
    }
    // What blanking hides stays within blanking: an early episode brings no late one.
    const isSameSide =
      daysBetween(performedOn, day) <= 90 === daysBetween(performedOn, episodeStartedOn) <= 90;
    if (!isSameSide || !stream.happens(LATER_DAY_SHARE)) return { day, burdenSeconds: 0, longest: 0 };
    const longest = Math.max(1, Math.floor(Math.min(found, SECONDS_PER_DAY) * stream.uniform()));
    const others = Math.floor((SECONDS_PER_DAY - longest) * 0.05 * stream.uniform());
    return { day, burdenSeconds: longest + others, longest };
  });
}
