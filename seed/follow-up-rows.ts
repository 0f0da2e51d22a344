import type { BulkPatient } from '../lib/records/bulk-load';
import { addDays, type CalendarDay } from '../lib/registry/calendar-day';
import type { CaseCourse, PatientCourse, SeenContact, SeenRecording } from './course';
import { drugsOf } from './drugs';
import { type RandomStream, streamOf } from './random';

type Rows = Pick<BulkPatient, 'visits' | 'recordings' | 'drugEpisodes' | 'cardioversions'>;

/** Visits and recordings after one procedure. */
export function rowsOfFollowUp(
  seed: number,
  firstDay: CalendarDay,
  patientId: string,
  course: PatientCourse,
  one: CaseCourse,
  procedureId: string,
): Pick<Rows, 'visits' | 'recordings' | 'cardioversions'> {
  const stream = streamOf(seed, 'identity', course.admission.index, one.ordinal + 10);
  const at = (day: number): CalendarDay => addDays(firstDay, day);
  const visits = one.contacts.map((contact) => ({
    id: stream.id(),
    patientId,
    procedureId,
    procedurePerformedOn: at(one.day),
    slot: contact.slot,
    visitedOn: at(contact.day),
    mode: contact.mode,
    rhythm: rhythmOf(contact),
    symptoms: symptomsOf(stream, contact),
    drugsReviewed: contact.drugsReviewed,
    anticoagulated: contact.drugsReviewed ? stream.happens(contact.day < one.day + 90 ? 0.97 : 0.7) : null,
  }));
  const recordings = one.contacts.flatMap((contact, index) =>
    contact.recordings.map((recording) => ({
      ...recordingRow(stream, at, recording),
      patientId,
      visitId: visits[index].id,
    })),
  );
  const cardioversions = one.cardioversions.map(({ day, kind }) => ({
    id: stream.id(),
    patientId,
    performedOn: at(day),
    kind,
  }));
  return { visits, recordings, cardioversions };
}

/** What the visit itself notes: the newest recording's rhythm. */
function rhythmOf({ recordings }: SeenContact): string | null {
  const newest = [...recordings].sort((a, b) => b.endDay - a.endDay)[0];
  return newest ? newest.finding.rhythm : null;
}

function symptomsOf(stream: RandomStream, contact: SeenContact): string | null {
  const score = stream.choose({ '1': 0.62, '2a': 0.24, '2b': 0.1, '3': 0.04 });
  const isAsked = stream.happens(0.85);
  if (contact.slot === 'unscheduled') return score === '1' ? '2b' : score;
  return isAsked ? score : null;
}

function recordingRow(stream: RandomStream, at: (day: number) => CalendarDay, recording: SeenRecording) {
  const { finding } = recording;
  return {
    id: stream.id(),
    kind: recording.kind,
    startedOn: at(recording.startDay),
    endedOn: at(Math.max(recording.endDay, finding.episodeEndDay ?? recording.endDay)),
    durationMinutes: recording.minutes,
    rhythm: finding.rhythm,
    wholeTracing: finding.wholeTracing,
    longestEpisodeSeconds: finding.longestEpisodeSeconds,
    episodeStartedOn: finding.episodeStartDay === null ? null : at(finding.episodeStartDay),
    episodeEndedOn: finding.episodeEndDay === null ? null : at(finding.episodeEndDay),
    symptomatic: finding.symptomatic,
    source: recording.source,
  };
}

/** Rows that belong to the patient, not to one procedure: recordings before the first one, and drugs. */
export function rowsOfPatient(
  seed: number,
  firstDay: CalendarDay,
  patientId: string,
  course: PatientCourse,
): Pick<Rows, 'recordings' | 'drugEpisodes'> {
  const { admission } = course;
  const stream = streamOf(seed, 'identity', admission.index, 2);
  const at = (day: number): CalendarDay => addDays(firstDay, day);
  const drugEpisodes = drugsOf(seed, course).map(({ drug, startDay, stopDay }) => ({
    id: stream.id(),
    patientId,
    drug,
    startedOn: at(startDay),
    stoppedOn: stopDay === null ? null : at(stopDay),
  }));
  const startedOn = at(admission.day - stream.whole(1, 60));
  const isAf = stream.happens(admission.afType === 'paroxysmal' ? 0.35 : 0.85);
  const baseline = {
    id: stream.id(),
    patientId,
    kind: 'ecg',
    startedOn,
    endedOn: startedOn,
    rhythm: isAf ? 'af' : 'sinus',
    wholeTracing: isAf,
    source: stream.happens(0.6) ? 'reported' : 'seen',
  };
  return { drugEpisodes, recordings: stream.happens(0.7) ? [baseline] : [] };
}
