import { gradeOfRecording } from '../lib/registry/rhythm-evidence';
import type { EvidenceGrade, RecordingKind, Rhythm } from '../lib/registry/vocabulary';
import type { LabDay } from './calendar';
import { DETECTION } from './parameters';
import type { RandomStream } from './random';
import type { Recurrence } from './rhythm';

/** A recording that is to be made, before anybody knows what it shows. */
export interface PlannedRecording {
  readonly kind: RecordingKind;
  readonly startDay: LabDay;
  /** Last day recorded: startDay + floor(minutes / 1440). */
  readonly endDay: LabDay;
  readonly minutes: number | null;
  readonly source: 'seen' | 'reported';
  /** The patient came because of symptoms. */
  readonly symptomDriven: boolean;
}

/** What a recording showed, as the lab writes it down. */
export interface Finding {
  readonly rhythm: Rhythm;
  readonly wholeTracing: boolean;
  readonly longestEpisodeSeconds: number | null;
  readonly episodeStartDay: LabDay | null;
  readonly episodeEndDay: LabDay | null;
  readonly symptomatic: boolean | null;
  /** True when it shows a true recurrence; a short run is none. */
  readonly isRecurrence: boolean;
}

export function plannedRecording(
  kind: RecordingKind,
  startDay: LabDay,
  hours: number | null,
  how: { source?: 'seen' | 'reported'; symptomDriven?: boolean } = {},
): PlannedRecording {
  const minutes = hours === null ? null : Math.round(hours * 60);
  const endDay = startDay + Math.floor((minutes ?? 0) / 1440);
  const { source = 'seen', symptomDriven = false } = how;
  return { kind, startDay, endDay, minutes, source, symptomDriven };
}

/**
 * What the recording shows, given the recurrences that may be present. A recurrence that is present on any of its days is
 * found with the sensitivity of the recording's grade; nothing is ever found that is not there, but for short runs.
 */
export function read(
  stream: RandomStream,
  recording: PlannedRecording,
  recurrences: readonly Recurrence[],
): Finding {
  const grade = gradeOfRecording(recording.kind, recording.minutes);
  const present = recurrences.find(
    (candidate) => candidate.firstDay <= recording.endDay && candidate.lastDay >= recording.startDay,
  );
  if (present && stream.happens(sensitivityOf(grade, present, recording))) {
    return whatIsSeen(stream, recording, present);
  }
  return nothingFound(stream, recording, grade);
}

function sensitivityOf(grade: EvidenceGrade, { sustained }: Recurrence, { symptomDriven }: PlannedRecording) {
  if (symptomDriven && !sustained) return DETECTION.symptomDriven.sensitivity;
  if (grade === 'contact') return 0;
  return DETECTION.sensitivity[sustained ? 'sustained' : 'intermittent'][grade];
}

function whatIsSeen(stream: RandomStream, recording: PlannedRecording, recurrence: Recurrence): Finding {
  const { rhythm, sustained } = recurrence;
  const base = { rhythm, isRecurrence: true, symptomatic: feltOn(stream, recording) };
  const first = Math.max(recording.startDay, recurrence.firstDay);
  const last = Math.min(recording.endDay, recurrence.lastDay);
  if (recording.minutes === null || recording.minutes < 60) {
    return {
      ...base,
      wholeTracing: true,
      longestEpisodeSeconds: null,
      episodeStartDay: null,
      episodeEndDay: null,
    };
  }
  const isWhole =
    sustained && recurrence.firstDay <= recording.startDay && recurrence.lastDay >= recording.endDay;
  if (isWhole && recording.kind === 'holter') {
    return {
      ...base,
      wholeTracing: true,
      longestEpisodeSeconds: recording.minutes * 60,
      episodeStartDay: recording.startDay,
      episodeEndDay: recording.endDay,
    };
  }
  // An implanted device knows the day of the first episode; other recordings show one of those that fell into them.
  const episodeStartDay = recording.kind === 'implanted' ? first : stream.whole(first, last);
  const room = 86_400 * 0.9 * (last - episodeStartDay + 1);
  const longest = Math.min(room, sustained ? 86_400 * 0.9 : recording.minutes * 60 * 0.6);
  const seconds = Math.round(Math.min(longest, 31 + Math.exp(stream.normal(7, 1.9))));
  const episodeEndDay = Math.min(last, episodeStartDay + Math.floor(seconds / 86_400));
  return { ...base, wholeTracing: false, longestEpisodeSeconds: seconds, episodeStartDay, episodeEndDay };
}

/** Share of recordings of 24 h or more without a recurrence that show a run of less than 30 s. */
export const SHORT_RUN_SHARE = 0.04;

function nothingFound(stream: RandomStream, recording: PlannedRecording, grade: EvidenceGrade): Finding {
  const isLong = grade !== 'ecg' && grade !== 'contact' && grade !== 'continuous';
  if (isLong && stream.happens(SHORT_RUN_SHARE)) {
    const day = stream.whole(recording.startDay, recording.endDay);
    return {
      rhythm: stream.happens(0.6) ? 'at' : 'af',
      wholeTracing: false,
      longestEpisodeSeconds: stream.whole(3, 29),
      episodeStartDay: day,
      episodeEndDay: day,
      symptomatic: false,
      isRecurrence: false,
    };
  }
  return {
    rhythm: stream.happens(0.012) ? 'other' : 'sinus',
    wholeTracing: false,
    longestEpisodeSeconds: null,
    episodeStartDay: null,
    episodeEndDay: null,
    symptomatic: null,
    isRecurrence: false,
  };
}

function feltOn(stream: RandomStream, { symptomDriven }: PlannedRecording): boolean | null {
  const draw = stream.uniform();
  if (symptomDriven) return true;
  return draw < 0.25 ? null : draw < 0.45;
}
