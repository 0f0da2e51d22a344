import { type CalendarDay, daysBetween, toEpochDay } from './calendar-day';
import { type DerivedStrategyResult, deriveStrategy, type LesionFacts } from './derived-strategy';
import { type DeviceDay, packDeviceDays } from './device-days';
import { isClassOneOrThree } from './drugs';
import {
  gradeOfRecording,
  ITEM_KIND,
  type PackedItem,
  packEvidence,
  packMark,
  packRecording,
  packWatchedSpan,
} from './rhythm-evidence';
import type { DerivedStrategy, Energy, RecordingKind, Rhythm } from './vocabulary';

/** Everything of one patient that a curve can depend on. Days are calendar days; order does not matter. */
export interface PatientHistory {
  readonly diedOn: CalendarDay | null;
  readonly procedures: readonly ProcedureFacts[];
  readonly recordings: readonly RecordingFacts[];
  /** What an implanted device counted day by day. */
  readonly deviceDays: readonly DeviceDay[];
  /** Any drug; only class I and III leave a mark. stoppedOn = last day taken. */
  readonly drugEpisodes: readonly { drug: string; startedOn: CalendarDay; stoppedOn: CalendarDay | null }[];
  readonly cardioversions: readonly { performedOn: CalendarDay }[];
  readonly visits: readonly { visitedOn: CalendarDay; drugsReviewed: boolean }[];
}

interface ProcedureFacts {
  readonly id: string;
  readonly ordinal: number;
  readonly performedOn: CalendarDay;
  readonly energy: Energy | null;
  readonly deviceType: string | null;
  readonly lesionElements: readonly LesionFacts[];
}

interface RecordingFacts {
  readonly kind: RecordingKind;
  readonly startedOn: CalendarDay;
  readonly endedOn: CalendarDay;
  readonly durationMinutes: number | null;
  readonly rhythm: Rhythm;
  readonly wholeTracing: boolean;
  readonly longestEpisodeSeconds: number | null;
  readonly episodeStartedOn: CalendarDay | null;
  readonly episodeEndedOn: CalendarDay | null;
  readonly symptomatic: boolean | null;
  readonly source: string;
}

/** What one case of the analysis rows derives from its patient's history. Days count from the case's own procedure. */
export interface CaseTimeline {
  readonly procedureId: string;
  readonly daysToNext: number | null;
  readonly daysToDeath: number | null;
  readonly daysToLastContact: number;
  readonly derivedStrategy: DerivedStrategy;
  readonly derivation: DerivedStrategyResult;
  readonly evidence: number[];
}

/** One timeline per procedure, in order of ordinal. Evidence before the procedure has negative days. */
export function timelinesOf(history: PatientHistory): CaseTimeline[] {
  const procedures = [...history.procedures].sort((a, b) => a.ordinal - b.ordinal);
  return procedures.map((procedure, index) => {
    const since = (day: CalendarDay): number => daysBetween(procedure.performedOn, day);
    const next = procedures[index + 1];
    const derivation = deriveStrategy({
      energy: procedure.energy,
      deviceType: procedure.deviceType,
      elements: procedure.lesionElements,
    });
    return {
      procedureId: procedure.id,
      daysToNext: next ? since(next.performedOn) : null,
      daysToDeath: history.diedOn === null ? null : since(history.diedOn),
      daysToLastContact: Math.max(0, ...contactDays(history).map(since)),
      derivedStrategy: derivation.strategy,
      derivation,
      evidence: packEvidence(evidenceItems(history, since)),
    };
  });
}

function contactDays(history: PatientHistory): CalendarDay[] {
  const days = [
    ...history.visits.map((visit) => visit.visitedOn),
    ...history.recordings.map((recording) => recording.endedOn),
    ...history.cardioversions.map((cardioversion) => cardioversion.performedOn),
    ...history.procedures.map((procedure) => procedure.performedOn),
    ...history.deviceDays.map(({ day }) => day),
  ];
  if (history.diedOn) days.push(history.diedOn);
  return [...new Set(days)].sort((a, b) => toEpochDay(a) - toEpochDay(b));
}

function evidenceItems(history: PatientHistory, since: (day: CalendarDay) => number): PackedItem[] {
  const items: PackedItem[] = history.recordings.flatMap((recording) => packOneRecording(recording, since));
  const cuts = history.procedures.map(({ performedOn }) => performedOn);
  items.push(...packDeviceDays(history.deviceDays, cuts, since));
  for (const episode of history.drugEpisodes) {
    if (!isClassOneOrThree(episode.drug)) continue;
    items.push(packMark(ITEM_KIND.drugStart, since(episode.startedOn)));
    if (episode.stoppedOn) items.push(packMark(ITEM_KIND.drugStop, since(episode.stoppedOn)));
  }
  for (const cardioversion of history.cardioversions) {
    items.push(packMark(ITEM_KIND.cardioversion, since(cardioversion.performedOn)));
  }
  for (const visit of history.visits) {
    items.push(
      packMark(visit.drugsReviewed ? ITEM_KIND.drugsKnown : ITEM_KIND.contact, since(visit.visitedOn)),
    );
  }
  return items;
}

/**
 * When an arrhythmia fills a recording of several days, its episode is the recording. Found somewhere in it without its
 * days, it counts on the first day: the form asks for the day.
 */
function packOneRecording(recording: RecordingFacts, since: (day: CalendarDay) => number): PackedItem[] {
  const { rhythm, startedOn, endedOn, episodeStartedOn, episodeEndedOn, wholeTracing } = recording;
  const found = rhythm !== 'sinus' && rhythm !== 'other';
  const onset = found ? (episodeStartedOn ?? startedOn) : startedOn;
  const episodeEnd = episodeEndedOn ?? (wholeTracing ? endedOn : onset);
  const grade = gradeOfRecording(recording.kind, recording.durationMinutes);
  const isSpanApart = since(onset) > since(startedOn);
  const item = packRecording({
    day: since(onset),
    endDay: since(found ? episodeEnd : endedOn),
    recordedToDay: since(endedOn),
    rhythm,
    grade,
    seconds: recording.longestEpisodeSeconds,
    wholeTracing,
    symptomatic: recording.symptomatic === true,
    seen: recording.source === 'seen',
    isSpanApart,
  });
  return isSpanApart ? [item, packWatchedSpan(grade, since(startedOn), since(endedOn))] : [item];
}
