import { z } from 'zod';
import { addDays, type CalendarDay, daysBetween, isCalendarDay } from '../calendar-day';
import { RECORDING_KINDS, RECORDING_SOURCES, RHYTHMS } from '../vocabulary';
import {
  dayEntry,
  type NumberField,
  numberEntry,
  requiredChoiceEntry,
  requiredDayEntry,
  tickEntry,
  yesNoEntry,
} from './entries';
import { RECORDING_LABELS } from './field-labels';

export const RECORDING_NUMBERS = {
  hours: { label: RECORDING_LABELS.hours, unit: 'h', min: 0, max: 87_840, usualMax: 8784, decimals: 2 },
  longestEpisodeSeconds: {
    label: RECORDING_LABELS.longestEpisodeSeconds,
    unit: 's',
    min: 0,
    max: 316_224_000,
    decimals: 0,
  },
} as const satisfies Record<string, NumberField>;

const shape = {
  kind: requiredChoiceEntry(RECORDING_LABELS.kind, RECORDING_KINDS),
  startedOn: requiredDayEntry(RECORDING_LABELS.startedOn),
  /** How long it recorded; null for an ECG or strip, or when not known. */
  hours: numberEntry(RECORDING_NUMBERS.hours),
  rhythm: requiredChoiceEntry(RECORDING_LABELS.rhythm, RHYTHMS),
  /** The arrhythmia fills the recording from end to end. */
  wholeTracing: tickEntry(RECORDING_LABELS.wholeTracing),
  longestEpisodeSeconds: numberEntry(RECORDING_NUMBERS.longestEpisodeSeconds),
  episodeStartedOn: dayEntry(RECORDING_LABELS.episodeStartedOn),
  episodeEndedOn: dayEntry(RECORDING_LABELS.episodeEndedOn),
  symptomatic: yesNoEntry(RECORDING_LABELS.symptomatic),
  source: requiredChoiceEntry(RECORDING_LABELS.source, RECORDING_SOURCES),
};

const plainRecording = z.strictObject(shape);
export type RecordingEntries = z.output<typeof plainRecording>;

export const recordingEntries = plainRecording.superRefine((recording, context) => {
  for (const [field, message] of contradictionsOfRecording(recording)) {
    context.addIssue({ code: 'custom', path: [field], message, continue: true });
  }
});

export const emptyRecording = {
  kind: '',
  startedOn: '',
  hours: '',
  rhythm: '',
  wholeTracing: false,
  longestEpisodeSeconds: '',
  episodeStartedOn: '',
  episodeEndedOn: '',
  symptomatic: '',
  source: '',
} satisfies z.input<typeof recordingEntries>;

/**
 * The stored span of a recording. The clock time of its start is not kept, so the last day is the one that the recording
 * reached for certain, startedOn + floor(hours / 24), or the last day of its episode if that is later: time free of
 * arrhythmia is never stretched by a guess.
 */
export function spanOfRecording(recording: RecordingEntries): {
  endedOn: CalendarDay;
  durationMinutes: number | null;
} {
  const { startedOn, hours, episodeStartedOn, episodeEndedOn } = recording;
  const certain = addDays(startedOn, Math.floor((hours ?? 0) / 24));
  const episode = episodeEndedOn ?? episodeStartedOn ?? certain;
  return {
    endedOn: daysBetween(certain, episode) > 0 ? episode : certain,
    durationMinutes: hours === null ? null : Math.round(hours * 60),
  };
}

/** The last day that the recording can have reached, or null when it is not known how long it ran. */
function latestPossibleDay({ kind, startedOn, hours }: RecordingEntries): CalendarDay | null {
  if (hours !== null) return addDays(startedOn, Math.max(1, Math.ceil(hours / 24)));
  return kind === 'ecg' || kind === 'rhythm-strip' ? startedOn : null;
}

function contradictionsOfRecording(recording: RecordingEntries): [keyof RecordingEntries, string][] {
  const found: [keyof RecordingEntries, string][] = [];
  const {
    rhythm,
    wholeTracing,
    longestEpisodeSeconds: seconds,
    hours,
    episodeStartedOn,
    episodeEndedOn,
  } = recording;
  if (rhythm === 'sinus') {
    const mend = 'Clear this, or choose the arrhythmia that was found.';
    if (wholeTracing === true)
      found.push(['wholeTracing', `${RECORDING_LABELS.wholeTracing}: no arrhythmia was found. ${mend}`]);
    if (seconds !== null && seconds > 0)
      found.push([
        'longestEpisodeSeconds',
        `${RECORDING_LABELS.longestEpisodeSeconds}: no arrhythmia was found. ${mend}`,
      ]);
    if (episodeStartedOn !== null)
      found.push([
        'episodeStartedOn',
        `${RECORDING_LABELS.episodeStartedOn}: no arrhythmia was found. ${mend}`,
      ]);
    if (episodeEndedOn !== null)
      found.push(['episodeEndedOn', `${RECORDING_LABELS.episodeEndedOn}: no arrhythmia was found. ${mend}`]);
    return found;
  }
  if (seconds !== null && hours !== null && seconds > hours * 3600 + 0.5) {
    found.push([
      'longestEpisodeSeconds',
      `${RECORDING_LABELS.longestEpisodeSeconds}: ${seconds} s do not fit into ${hours} h (${Math.round(hours * 3600)} s). Mend the seconds or the hours.`,
    ]);
  }
  if (episodeEndedOn !== null && episodeStartedOn === null) {
    found.push([
      'episodeStartedOn',
      `${RECORDING_LABELS.episodeStartedOn} is missing although its end is given. Give it, or clear the end.`,
    ]);
  }
  if (
    episodeStartedOn !== null &&
    episodeEndedOn !== null &&
    daysBetween(episodeStartedOn, episodeEndedOn) < 0
  ) {
    found.push([
      'episodeEndedOn',
      `${RECORDING_LABELS.episodeEndedOn}: ${episodeEndedOn} is before its start, ${episodeStartedOn}. Mend one of the two.`,
    ]);
  }
  // The start is required: when it could not be read, its own message says so and nothing can be compared with it.
  if (!isCalendarDay(recording.startedOn)) return found;
  if (episodeStartedOn !== null && daysBetween(recording.startedOn, episodeStartedOn) < 0) {
    found.push([
      'episodeStartedOn',
      `${RECORDING_LABELS.episodeStartedOn}: ${episodeStartedOn} is before the recording began, ${recording.startedOn}. Give the first day that was recorded.`,
    ]);
  }
  const latest = latestPossibleDay(recording);
  for (const field of ['episodeStartedOn', 'episodeEndedOn'] as const) {
    const day = recording[field];
    if (day === null || latest === null || daysBetween(latest, day) <= 0) continue;
    found.push([
      field,
      `${RECORDING_LABELS[field]}: ${day} is after the recording ended (${latest} at the latest). Mend the day or the hours recorded.`,
    ]);
  }
  return found;
}
