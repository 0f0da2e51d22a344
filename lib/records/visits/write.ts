import 'server-only';
import { randomUUID } from 'node:crypto';
import { type RecordingEntries, spanOfRecording } from '../../registry/forms/recording-entries';
import type { VisitAmendment, VisitForm } from '../../registry/forms/visit-form';
import { StaleEdit } from '../../runtime/application-error';
import type { Actor } from '../actor';
import { canonicalJson } from '../audit-chain';
import { dateFromDay, dateFromDayOrNull } from '../day-edge';
import type { Recording } from '../generated/client';
import { type FormRequest, type OpenWrite, record } from '../record';
import { storeDrugRows } from './drug-rows';
import { visitValuesByPath } from './form-values';

export type WrittenVisit = { readonly id: string; readonly version: number };

export interface VisitPlace {
  readonly patientId: string;
  readonly procedureId: string;
  readonly performedOn: string;
}

/** Enters a follow-up visit with its recordings, the drugs that changed and a cardioversion. */
export function recordVisit(
  actor: Actor,
  place: VisitPlace,
  form: VisitForm,
  request: FormRequest,
): Promise<WrittenVisit> {
  const { patientId, procedureId, performedOn } = place;
  const order = { action: 'visit.record', reason: 'entered', patientId, request };
  return record<WrittenVisit>(actor, order, async (open) => {
    const { tx, labId, note } = open;
    const id = randomUUID();
    const procedure = { procedureId, procedurePerformedOn: dateFromDay(performedOn) };
    const row = await tx.followUpVisit.create({
      data: { labId, id, patientId, ...procedure, ...columnsOf(form) },
    });
    note({ entity: 'follow_up_visits', entityId: id, patientId, before: null, after: row });
    for (const recording of form.recordings) await addRecording(open, patientId, id, recording);
    await storeDrugRows(open, patientId, form.drugs);
    await addCardioversion(open, patientId, form);
    return { id, version: row.version };
  });
}

/**
 * Changes a visit. Recordings are matched by their place in the list: changed ones are updated, new ones added, removed
 * ones taken out; the trail keeps what each was. Throws StaleEdit with what is stored.
 */
export function amendVisit(
  actor: Actor,
  visit: { readonly id: string; readonly patientId: string },
  form: VisitAmendment,
  request: FormRequest,
): Promise<WrittenVisit> {
  const { id, patientId } = visit;
  const order = { action: 'visit.amend', reason: form.reason, patientId, request };
  return record<WrittenVisit>(actor, order, async (open) => {
    const { tx, labId, note } = open;
    const key = { labId_id: { labId, id } };
    const before = await tx.followUpVisit.findUniqueOrThrow({ where: key });
    const stored = await tx.recording.findMany({
      where: { labId, visitId: id },
      orderBy: [{ startedOn: 'asc' }, { id: 'asc' }],
    });
    if (before.version !== form.version)
      throw new StaleEdit(before.version, visitValuesByPath(before, stored));
    const after = await tx.followUpVisit.update({
      where: key,
      data: { ...columnsOf(form), version: { increment: 1 } },
    });
    note({ entity: 'follow_up_visits', entityId: id, patientId, before, after });
    await replaceRecordings(open, patientId, id, stored, form.recordings);
    await storeDrugRows(open, patientId, form.drugs);
    await addCardioversion(open, patientId, form);
    return { id, version: after.version };
  });
}

function columnsOf(form: VisitForm) {
  return {
    slot: form.slot,
    visitedOn: dateFromDay(form.visitedOn),
    mode: form.mode,
    rhythm: form.rhythm,
    symptoms: form.symptoms,
    drugsReviewed: form.drugsReviewed,
    anticoagulated: form.anticoagulated,
  };
}

function recordingColumns(recording: RecordingEntries) {
  const { hours: _hours, ...entries } = recording;
  const { endedOn, durationMinutes } = spanOfRecording(recording);
  return {
    ...entries,
    startedOn: dateFromDay(recording.startedOn),
    endedOn: dateFromDay(endedOn),
    durationMinutes,
    episodeStartedOn: dateFromDayOrNull(recording.episodeStartedOn),
    episodeEndedOn: dateFromDayOrNull(recording.episodeEndedOn),
  };
}

async function addRecording(
  { tx, labId, note }: OpenWrite,
  patientId: string,
  visitId: string,
  recording: RecordingEntries,
): Promise<void> {
  const id = randomUUID();
  const row = await tx.recording.create({
    data: { labId, id, patientId, visitId, ...recordingColumns(recording) },
  });
  note({ entity: 'recordings', entityId: id, patientId, before: null, after: row });
}

async function replaceRecordings(
  open: OpenWrite,
  patientId: string,
  visitId: string,
  stored: readonly Recording[],
  wanted: readonly RecordingEntries[],
): Promise<void> {
  const { tx, labId, note } = open;
  for (const [i, recording] of wanted.entries()) {
    const before = stored[i];
    if (!before) {
      await addRecording(open, patientId, visitId, recording);
      continue;
    }
    const columns = recordingColumns(recording);
    if (isUnchanged(before, columns)) continue;
    const after = await tx.recording.update({
      where: { labId_id: { labId, id: before.id } },
      data: { ...columns, version: { increment: 1 } },
    });
    note({ entity: 'recordings', entityId: before.id, patientId, before, after });
  }
  for (const before of stored.slice(wanted.length)) {
    await tx.recording.delete({ where: { labId_id: { labId, id: before.id } } });
    note({ entity: 'recordings', entityId: before.id, patientId, before, after: null });
  }
}

function isUnchanged(before: Recording, columns: ReturnType<typeof recordingColumns>): boolean {
  const kept = Object.fromEntries(Object.entries(before).filter(([name]) => Object.hasOwn(columns, name)));
  return canonicalJson(kept) === canonicalJson(columns);
}

async function addCardioversion(
  { tx, labId, note }: OpenWrite,
  patientId: string,
  form: VisitForm,
): Promise<void> {
  if (form.cardioversionKind === null || form.cardioversionOn === null) return;
  const id = randomUUID();
  const performedOn = dateFromDay(form.cardioversionOn);
  const row = await tx.cardioversion.create({
    data: { labId, id, patientId, kind: form.cardioversionKind, performedOn },
  });
  note({ entity: 'cardioversions', entityId: id, patientId, before: null, after: row });
}
