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
  if (typeof hours === 'number') return addDays(startedOn, Math.max(1, Math.ceil(hours / 24)));
  if (hours !== null) return null;
  return kind === 'ecg' || kind === 'rhythm-strip' ? startedOn : null;
}

type Contradiction = [field: keyof RecordingEntries, message: string];

const EPISODE_FIELDS = ['longestEpisodeSeconds', 'episodeStartedOn', 'episodeEndedOn'] as const;

/** A recording without arrhythmia has no episode. */
function contradictionsOfSinus(recording: RecordingEntries): Contradiction[] {
  const isGiven = (value: unknown) => typeof value === 'string' || (typeof value === 'number' && value > 0);
  const given: (keyof RecordingEntries)[] = EPISODE_FIELDS.filter((field) => isGiven(recording[field]));
  if (recording.wholeTracing === true) given.unshift('wholeTracing');
  return given.map((field) => [
    field,
    `${RECORDING_LABELS[field]}: no arrhythmia was found. Clear this, or choose the arrhythmia that was found.`,
  ]);
}

function contradictionsOfRecording(recording: RecordingEntries): Contradiction[] {
  if (recording.rhythm === 'sinus') return contradictionsOfSinus(recording);
  const found: Contradiction[] = [];
  const { startedOn, longestEpisodeSeconds: seconds, hours, episodeStartedOn, episodeEndedOn } = recording;
  // A field that could not be read has its own message: what is left over is compared.
  const [start, first, last] = [startedOn, episodeStartedOn, episodeEndedOn].map((day) =>
    day !== null && isCalendarDay(day) ? day : null,
  );
  const { longestEpisodeSeconds, episodeStartedOn: firstLabel, episodeEndedOn: lastLabel } = RECORDING_LABELS;
  if (typeof seconds === 'number' && typeof hours === 'number' && seconds > hours * 3600 + 0.5) {
    found.push([
      'longestEpisodeSeconds',
      `${longestEpisodeSeconds}: ${seconds} s do not fit into ${hours} h (${Math.round(hours * 3600)} s). Mend the seconds or the hours.`,
    ]);
  }
  if (last && episodeStartedOn === null) {
    found.push([
      'episodeStartedOn',
      `${firstLabel} is missing although its end is given. Give it, or clear the end.`,
    ]);
  }
  if (first && last && daysBetween(first, last) < 0) {
    found.push([
      'episodeEndedOn',
      `${lastLabel}: ${last} is before its start, ${first}. Mend one of the two.`,
    ]);
  }
  if (start && first && daysBetween(start, first) < 0) {
    found.push([
      'episodeStartedOn',
      `${firstLabel}: ${first} is before the recording began, ${start}. Give the first day that was recorded.`,
    ]);
  }
  const latest = start ? latestPossibleDay(recording) : null;
  const isTooLate = (day: CalendarDay | null | undefined) => day && latest && daysBetween(latest, day) > 0;
  const mend = `is after the recording ended (${latest} at the latest). Mend the day or the hours recorded.`;
  if (isTooLate(first)) found.push(['episodeStartedOn', `${firstLabel}: ${first} ${mend}`]);
  if (isTooLate(last)) found.push(['episodeEndedOn', `${lastLabel}: ${last} ${mend}`]);
  return found;
}
