import 'server-only';
import type { VisitFormInput } from '../../registry/forms/visit-form';
import type { Actor } from '../actor';
import { database } from '../database';
import { dayFromDate, dayFromDateOrNull } from '../day-edge';
import type { Recording } from '../generated/client';
import { visitFormValues } from '../visits/form-values';

interface RecordingRow {
  readonly id: string;
  readonly visitId: string | null;
  readonly kind: string;
  readonly startedOn: string;
  readonly endedOn: string;
  readonly durationMinutes: number | null;
  readonly rhythm: string;
  readonly wholeTracing: boolean;
  readonly longestEpisodeSeconds: number | null;
  readonly source: string;
}

export interface CaseFollowUp {
  readonly visits: readonly {
    readonly id: string;
    readonly slot: string;
    readonly visitedOn: string;
    readonly mode: string;
    readonly rhythm: string | null;
    readonly drugsReviewed: boolean;
    readonly recordings: readonly RecordingRow[];
  }[];
  /** Recordings of the patient that were not taken at a visit of this case. */
  readonly otherRecordings: readonly RecordingRow[];
  readonly drugEpisodes: readonly { id: string; drug: string; startedOn: string; stoppedOn: string | null }[];
  readonly cardioversions: readonly { id: string; performedOn: string; kind: string }[];
}

/** What happened after a procedure, in order of days: its visits with recordings, and what belongs to the patient. */
export async function readFollowUp(
  actor: Actor,
  patientId: string,
  procedureId: string,
): Promise<CaseFollowUp> {
  const { labId } = actor;
  const db = database();
  const [visits, recordings, drugs, cardioversions] = await Promise.all([
    db.followUpVisit.findMany({
      where: { labId, procedureId },
      orderBy: [{ visitedOn: 'asc' }, { id: 'asc' }],
    }),
    db.recording.findMany({ where: { labId, patientId }, orderBy: [{ startedOn: 'asc' }, { id: 'asc' }] }),
    db.drugEpisode.findMany({ where: { labId, patientId }, orderBy: [{ startedOn: 'asc' }, { id: 'asc' }] }),
    db.cardioversion.findMany({
      where: { labId, patientId },
      orderBy: [{ performedOn: 'asc' }, { id: 'asc' }],
    }),
  ]);
  const own = new Set(visits.map((visit) => visit.id));
  return {
    visits: visits.map((visit) => ({
      id: visit.id,
      slot: visit.slot,
      visitedOn: dayFromDate(visit.visitedOn),
      mode: visit.mode,
      rhythm: visit.rhythm,
      drugsReviewed: visit.drugsReviewed,
      recordings: recordings.filter((recording) => recording.visitId === visit.id).map(rowOf),
    })),
    otherRecordings: recordings.filter(({ visitId }) => visitId === null || !own.has(visitId)).map(rowOf),
    drugEpisodes: drugs.map((episode) => ({
      id: episode.id,
      drug: episode.drug,
      startedOn: dayFromDate(episode.startedOn),
      stoppedOn: dayFromDateOrNull(episode.stoppedOn),
    })),
    cardioversions: cardioversions.map((row) => ({
      id: row.id,
      performedOn: dayFromDate(row.performedOn),
      kind: row.kind,
    })),
  };
}

export interface VisitForEditing {
  readonly id: string;
  readonly version: number;
  readonly patientId: string;
  readonly procedureId: string;
  readonly values: VisitFormInput;
}

/** A visit as the form shows it; null when the lab has none with this id. */
export async function readVisitForEditing(actor: Actor, id: string): Promise<VisitForEditing | null> {
  const visit = await database().followUpVisit.findUnique({
    where: { labId_id: { labId: actor.labId, id } },
    include: { recordings: { orderBy: [{ startedOn: 'asc' }, { id: 'asc' }] } },
  });
  if (!visit) return null;
  const { version, patientId, procedureId, recordings } = visit;
  return { id, version, patientId, procedureId, values: visitFormValues(visit, recordings) };
}

function rowOf(row: Recording): RecordingRow {
  return {
    id: row.id,
    visitId: row.visitId,
    kind: row.kind,
    startedOn: dayFromDate(row.startedOn),
    endedOn: dayFromDate(row.endedOn),
    durationMinutes: row.durationMinutes,
    rhythm: row.rhythm,
    wholeTracing: row.wholeTracing,
    longestEpisodeSeconds: row.longestEpisodeSeconds,
    source: row.source,
  };
}
