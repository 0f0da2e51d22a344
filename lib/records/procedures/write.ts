import 'server-only';
import { randomUUID } from 'node:crypto';
import { deriveAfType } from '../../registry/af-type';
import {
  fluoroscopySecondsOf,
  type ProcedureAmendment,
  type ProcedureForm,
} from '../../registry/forms/procedure-form';
import { ApplicationError, StaleEdit } from '../../runtime/application-error';
import type { Actor } from '../actor';
import { amendedColumns } from '../case-states/write';
import { dateFromDay } from '../day-edge';
import { type KeptValueEntry, keepValues } from '../kept-values/write';
import { type FormRequest, type OpenWrite, record } from '../record';
import { procedureValuesByPath } from './form-values';

export type WrittenProcedure = { readonly id: string; readonly version: number };

/** Records a patient's procedure with its baseline. Ordinals follow the days: a late entry of an earlier one moves the others up. */
export function recordProcedure(
  actor: Actor,
  patientId: string,
  form: ProcedureForm,
  request: FormRequest,
  kept: readonly KeptValueEntry[] = [],
): Promise<WrittenProcedure> {
  const order = { action: 'procedure.record', reason: 'entered', patientId, request };
  return record<WrittenProcedure>(actor, order, async (open) => {
    const { tx, labId, note } = open;
    const id = randomUUID();
    await checkOperator(open, form.operatorId);
    const earlier = await tx.procedure.count({
      where: { labId, patientId, performedOn: { lte: dateFromDay(form.performedOn) } },
    });
    await moveOrdinals(open, patientId, earlier + 1);
    const row = await tx.procedure.create({
      data: { labId, id, patientId, ordinal: earlier + 1, state: 'draft', ...columnsOf(form) },
    });
    const baseline = await tx.baseline.create({
      data: { labId, procedureId: id, ...baselineColumnsOf(form) },
    });
    note({ entity: 'procedures', entityId: id, patientId, before: null, after: row });
    note({ entity: 'baselines', entityId: id, patientId, before: null, after: baseline });
    await keepValues(open, { id, patientId }, kept);
    return { id, version: row.version };
  });
}

/** Changes a procedure and its baseline. Throws StaleEdit with what is stored. Ordinals are set anew when the day moved. */
export function amendProcedure(
  actor: Actor,
  procedure: { readonly id: string; readonly patientId: string },
  form: ProcedureAmendment,
  request: FormRequest,
  kept: readonly KeptValueEntry[] = [],
): Promise<WrittenProcedure> {
  const { id, patientId } = procedure;
  const order = { action: 'procedure.amend', reason: form.reason, patientId, request };
  return record<WrittenProcedure>(actor, order, async (open) => {
    const { tx, labId, note } = open;
    const key = { labId_id: { labId, id } };
    const before = await tx.procedure.findUniqueOrThrow({ where: key, include: { baseline: true } });
    const { baseline: baselineBefore, ...rowBefore } = before;
    if (before.version !== form.version) {
      throw new StaleEdit(before.version, procedureValuesByPath(before, baselineBefore));
    }
    await checkOperator(open, form.operatorId);
    const after = await tx.procedure.update({
      where: key,
      data: { ...columnsOf(form), ...amendedColumns(before), version: { increment: 1 } },
    });
    const baseline = await tx.baseline.upsert({
      where: { labId_procedureId: { labId, procedureId: id } },
      create: { labId, procedureId: id, ...baselineColumnsOf(form) },
      update: { ...baselineColumnsOf(form), version: { increment: 1 } },
    });
    note({ entity: 'procedures', entityId: id, patientId, before: rowBefore, after });
    note({ entity: 'baselines', entityId: id, patientId, before: baselineBefore, after: baseline });
    await keepValues(open, procedure, kept);
    await sortOrdinals(open, patientId);
    const { version } = await tx.procedure.findUniqueOrThrow({ where: key, select: { version: true } });
    return { id, version };
  });
}

function columnsOf(form: ProcedureForm) {
  const {
    performedOn,
    dischargedOn,
    fluoroscopyMinutes,
    baseline: _before,
    kept: _reasons,
    ...same
  } = own(form);
  return {
    ...same,
    performedOn: dateFromDay(performedOn),
    dischargedOn: dischargedOn === null ? null : dateFromDay(dischargedOn),
    fluoroscopySeconds: fluoroscopySecondsOf(fluoroscopyMinutes),
  };
}

/** The form without what only an amendment carries. */
function own(form: ProcedureForm & { readonly version?: number; readonly reason?: string }): ProcedureForm {
  const { version: _seen, reason: _why, ...values } = form;
  return values;
}

/** The AF type follows from the longest episode where nobody has chosen one. */
function baselineColumnsOf({ baseline }: ProcedureForm) {
  if (baseline.afType !== null) return baseline;
  const answer = deriveAfType(baseline.longestEpisodeDays, baseline.episodeEnding);
  return answer.kind === 'derived' ? { ...baseline, afType: answer.afType } : baseline;
}

async function checkOperator({ tx, labId }: OpenWrite, operatorId: string | null): Promise<void> {
  if (operatorId === null) return;
  if (await tx.operator.findUnique({ where: { labId_id: { labId, id: operatorId } } })) return;
  const message = 'Operator: this lab has no such operator. Choose one of the list.';
  throw new ApplicationError('invalid', message, [{ field: 'operatorId', message }]);
}

/** Frees one ordinal by moving it and all behind it up by one, last first, so that no two ever share one. */
async function moveOrdinals({ tx, labId, note }: OpenWrite, patientId: string, from: number): Promise<void> {
  const later = await tx.procedure.findMany({
    where: { labId, patientId, ordinal: { gte: from } },
    orderBy: { ordinal: 'desc' },
  });
  for (const before of later) {
    const after = await tx.procedure.update({
      where: { labId_id: { labId, id: before.id } },
      data: { ordinal: before.ordinal + 1, version: { increment: 1 } },
    });
    note({ entity: 'procedures', entityId: before.id, patientId, before, after });
  }
}

/** Puts the ordinals in the order of the days again. Two steps, because no two procedures may share an ordinal meanwhile. */
async function sortOrdinals({ tx, labId, note }: OpenWrite, patientId: string): Promise<void> {
  const rows = await tx.procedure.findMany({
    where: { labId, patientId },
    orderBy: [{ performedOn: 'asc' }, { ordinal: 'asc' }],
  });
  const moved = rows.flatMap((row, index) =>
    row.ordinal === index + 1 ? [] : [{ row, ordinal: index + 1 }],
  );
  const spare = rows.length;
  for (const { row, ordinal } of moved) {
    await tx.procedure.update({
      where: { labId_id: { labId, id: row.id } },
      data: { ordinal: ordinal + spare },
    });
  }
  for (const { row, ordinal } of moved) {
    const after = await tx.procedure.update({
      where: { labId_id: { labId, id: row.id } },
      data: { ordinal, version: { increment: 1 } },
    });
    note({ entity: 'procedures', entityId: row.id, patientId, before: row, after });
  }
}
