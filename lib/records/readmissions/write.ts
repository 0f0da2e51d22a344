import 'server-only';
import { randomUUID } from 'node:crypto';
import type { ReadmissionAmendment, ReadmissionForm } from '../../registry/forms/readmission-form';
import { CHANGED_MEANWHILE, type VoidForm } from '../../registry/forms/void-form';
import { ApplicationError, StaleEdit } from '../../runtime/application-error';
import { now } from '../../runtime/clock';
import type { Actor } from '../actor';
import { dateFromDay, dateFromDayOrNull } from '../day-edge';
import type { Readmission } from '../generated/client';
import { keptPrefix } from '../kept-values/read';
import { type KeptValueEntry, keepValues } from '../kept-values/write';
import { type FormRequest, type OpenWrite, record } from '../record';
import { readmissionFormValues } from './read';

export type WrittenReadmission = { readonly id: string; readonly version: number };

export interface ReadmissionPlace {
  readonly patientId: string;
  readonly procedureId: string;
  readonly performedOn: string;
}

interface ReadmissionKey {
  readonly id: string;
  readonly patientId: string;
}

/** Enters a stay in hospital after the one for the procedure. */
export function recordReadmission(
  actor: Actor,
  place: ReadmissionPlace,
  form: ReadmissionForm,
  request: FormRequest,
  kept: readonly KeptValueEntry[] = [],
): Promise<WrittenReadmission> {
  const { patientId, procedureId, performedOn } = place;
  const order = { action: 'readmission.record', reason: 'entered', patientId, request };
  return record<WrittenReadmission>(actor, order, async (open) => {
    const { tx, labId, note } = open;
    const id = randomUUID();
    const procedure = { procedureId, procedurePerformedOn: dateFromDay(performedOn) };
    const row = await tx.readmission.create({ data: { labId, id, ...procedure, ...columnsOf(form) } });
    note({ entity: 'readmissions', entityId: id, patientId, before: null, after: row });
    await keepValues(open, { id: procedureId, patientId }, kept, keptPrefix.readmission(id));
    return { id, version: row.version };
  });
}

/** Changes a readmission. Throws StaleEdit with what is stored. */
export function amendReadmission(
  actor: Actor,
  { id, patientId }: ReadmissionKey,
  form: ReadmissionAmendment,
  request: FormRequest,
  kept: readonly KeptValueEntry[] = [],
): Promise<WrittenReadmission> {
  const order = { action: 'readmission.amend', reason: form.reason, patientId, request };
  return record<WrittenReadmission>(actor, order, async (open) => {
    const before = await openReadmission(open, id);
    if (before.version !== form.version) throw new StaleEdit(before.version, readmissionFormValues(before));
    await keepValues(open, { id: before.procedureId, patientId }, kept, keptPrefix.readmission(id));
    return update(open, patientId, before, columnsOf(form));
  });
}

/** Marks a readmission as entered by mistake: it counts nowhere and stays readable. */
export function voidReadmission(
  actor: Actor,
  { id, patientId }: ReadmissionKey,
  form: VoidForm,
  request: FormRequest,
): Promise<WrittenReadmission> {
  const order = { action: 'readmission.void', reason: form.reason, patientId, request };
  return record<WrittenReadmission>(actor, order, async (open) => {
    const before = await openReadmission(open, id);
    if (before.version !== form.version) {
      throw new ApplicationError('invalid', CHANGED_MEANWHILE, [
        { field: 'reason', message: CHANGED_MEANWHILE },
      ]);
    }
    const voidedById = actor.kind === 'person' ? actor.id : null;
    return update(open, patientId, before, { voidedReason: form.reason, voidedById, voidedAt: now() });
  });
}

async function update(
  { tx, labId, note }: OpenWrite,
  patientId: string,
  before: Readmission,
  columns: Partial<Readmission>,
): Promise<WrittenReadmission> {
  const { id } = before;
  const after = await tx.readmission.update({
    where: { labId_id: { labId, id } },
    data: { ...columns, version: { increment: 1 } },
  });
  note({ entity: 'readmissions', entityId: id, patientId, before, after });
  return { id, version: after.version };
}

async function openReadmission({ tx, labId }: OpenWrite, id: string) {
  const row = await tx.readmission.findUnique({ where: { labId_id: { labId, id } } });
  if (!row) throw new ApplicationError('not-found', 'There is no such readmission in this lab.');
  if (row.voidedAt !== null) {
    throw new ApplicationError(
      'invalid',
      'This entry is void and stays as it is. Enter the readmission anew.',
    );
  }
  return row;
}

function columnsOf(form: ReadmissionForm) {
  return {
    admittedOn: dateFromDay(form.admittedOn),
    dischargedOn: dateFromDayOrNull(form.dischargedOn),
    cause: form.cause,
  };
}
