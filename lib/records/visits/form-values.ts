import 'server-only';
import type { VisitFormInput } from '../../registry/forms/visit-form';
import { dayFromDate, dayFromDateOrNull } from '../day-edge';
import type { FollowUpVisit, Recording } from '../generated/client';

const yesNo = (value: boolean | null): string => (value === true ? 'yes' : value === false ? 'no' : '');

function recordingFormValues(row: Recording) {
  return {
    kind: row.kind,
    startedOn: dayFromDate(row.startedOn),
    hours: row.durationMinutes === null ? '' : String(Math.round((row.durationMinutes * 100) / 60) / 100),
    rhythm: row.rhythm,
    wholeTracing: row.wholeTracing,
    longestEpisodeSeconds: row.longestEpisodeSeconds === null ? '' : String(row.longestEpisodeSeconds),
    episodeStartedOn: dayFromDateOrNull(row.episodeStartedOn) ?? '',
    episodeEndedOn: dayFromDateOrNull(row.episodeEndedOn) ?? '',
    symptomatic: yesNo(row.symptomatic),
    source: row.source,
  };
}

/** A stored visit with its recordings as the form holds it. Drugs and cardioversions belong to the patient: their rows start empty. */
export function visitFormValues(row: FollowUpVisit, recordings: readonly Recording[]) {
  return {
    slot: row.slot,
    visitedOn: dayFromDate(row.visitedOn),
    mode: row.mode,
    rhythm: row.rhythm ?? '',
    symptoms: row.symptoms ?? '',
    drugsReviewed: row.drugsReviewed,
    anticoagulated: yesNo(row.anticoagulated),
    cardioversionKind: '',
    cardioversionOn: '',
    drugs: [],
    recordings: recordings.map(recordingFormValues),
  } satisfies VisitFormInput;
}

/** The same values by path, as conflicts name them: 'recordings.0.rhythm'. */
export function visitValuesByPath(
  row: FollowUpVisit,
  recordings: readonly Recording[],
): Record<string, string | boolean> {
  const values = visitFormValues(row, recordings);
  const { recordings: list, drugs: _drugs, cardioversionKind: _kind, cardioversionOn: _on, ...own } = values;
  const inner = list.flatMap((recording, i) =>
    Object.entries(recording).map(([name, value]) => [`recordings.${i}.${name}`, value] as const),
  );
  return { ...own, ...Object.fromEntries(inner) };
}
