import 'server-only';
import { randomUUID } from 'node:crypto';
import type { DeviceDay } from '../../registry/device-days';
import { ApplicationError } from '../../runtime/application-error';
import { now } from '../../runtime/clock';
import type { Actor } from '../actor';
import { conflictOf } from '../bulk-conflict';
import { dateFromDay } from '../day-edge';
import { decodeDeviceDay } from '../decode';
import { type OpenWrite, record } from '../record';

/** A file of device days as its batch keeps it. */
export interface DeviceFile {
  readonly source: string;
  readonly fileSha256: Uint8Array<ArrayBuffer>;
  readonly rows: number;
  readonly refused: number;
  readonly patientsPlanned: number;
}

/** What is to be written for one patient. `replaces` is what the person saw stored: anything else there is a conflict. */
export interface DevicePatientDays {
  readonly patientId: string;
  readonly version: number;
  readonly adds: readonly DeviceDay[];
  readonly replaces: readonly { readonly before: DeviceDay; readonly after: DeviceDay }[];
}

/** Opens the batch of a file, or opens it anew when the same file came before: it is written patient by patient behind it. */
export async function openDeviceBatch(actor: Actor, file: DeviceFile): Promise<string> {
  const { source, fileSha256, ...counts } = file;
  const order = { action: 'device.import', reason: 'imported' };
  const { id } = await record(actor, order, async ({ tx, labId, note }) => {
    const earlier = await tx.importBatch.findFirst({ where: { labId, source, fileSha256 } });
    const createdById = actor.kind === 'person' ? actor.id : null;
    const batchId = earlier?.id ?? randomUUID();
    const after = earlier
      ? await tx.importBatch.update({
          where: { labId_id: { labId, id: batchId } },
          data: { ...counts, patientsDone: 0 },
        })
      : await tx.importBatch.create({
          data: {
            labId,
            id: batchId,
            source,
            fileSha256,
            ...counts,
            published: 0,
            patientsDone: 0,
            createdAt: now(),
            createdById,
          },
        });
    note({ entity: 'import_batches', entityId: batchId, patientId: null, before: earlier, after });
    return { id: batchId };
  }).catch((error: unknown) => {
    throw conflictOf(error, source);
  });
  return id;
}

/**
 * Writes the device days of one patient: all of them or none, with the trail, the analysis rows, and the batch's progress.
 * @throws ApplicationError conflict when the patient or the stored days are no longer as they were when the file was checked.
 */
export async function storeDeviceDays(
  actor: Actor,
  batchId: string,
  { patientId, version, adds, replaces }: DevicePatientDays,
): Promise<void> {
  const order = { action: 'device.import', reason: 'imported', patientId };
  await record(actor, order, async (open) => {
    await checkUnchanged(open, patientId, version, adds, replaces);
    const { tx, labId, note } = open;
    const data = (one: DeviceDay) => ({ ...one, day: dateFromDay(one.day), importBatchId: batchId });
    await tx.deviceDay.createMany({ data: adds.map((one) => ({ labId, patientId, ...data(one) })) });
    for (const { after } of replaces) {
      const key = { labId, patientId, day: dateFromDay(after.day) };
      await tx.deviceDay.update({ where: { labId_patientId_day: key }, data: data(after) });
    }
    // Counts only what this very entry of the trail tells.
    await tx.importBatch.update({
      where: { labId_id: { labId, id: batchId } },
      data: { patientsDone: { increment: 1 }, published: { increment: adds.length + replaces.length } },
    });
    const written = [...adds, ...replaces.map(({ after }) => after)];
    note({
      entity: 'device_days',
      entityId: batchId,
      patientId,
      before: replaces.length === 0 ? null : told(replaces.map(({ before }) => before)),
      after: told(written),
    });
    return { written: written.length };
  });
}

/** Days of one patient as the trail tells them: how many and of when for people, each value for whoever rebuilds them. */
function told(days: readonly DeviceDay[]) {
  const ordered = days.map(({ day }) => day).sort();
  return {
    deviceDays: days.length,
    firstDay: ordered[0],
    lastDay: ordered.at(-1),
    withArrhythmia: days.filter(({ burdenSeconds }) => burdenSeconds > 0).length,
    values: days.map((one) => [one.day, one.device, one.burdenSeconds, one.longestEpisodeSeconds]),
  };
}

async function checkUnchanged(
  { tx, labId }: OpenWrite,
  patientId: string,
  version: number,
  adds: DevicePatientDays['adds'],
  replaces: DevicePatientDays['replaces'],
): Promise<void> {
  const days = [...adds, ...replaces.map(({ before }) => before)].map(({ day }) => dateFromDay(day));
  const patient = await tx.patient.findUniqueOrThrow({ where: { labId_id: { labId, id: patientId } } });
  const stored = await tx.deviceDay.findMany({ where: { labId, patientId, day: { in: days } } });
  const expected = new Map(replaces.map(({ before }) => [before.day, before]));
  const isAsSeen =
    patient.version === version &&
    stored.length === replaces.length &&
    stored.map(decodeDeviceDay).every((one) => isSameDay(one, expected.get(one.day)));
  if (isAsSeen) return;
  throw new ApplicationError(
    'conflict',
    `Patient ${patient.code} was changed by somebody else since the file was checked. What was written for other patients is stored; check the file again to go on with the rest.`,
  );
}

function isSameDay(a: DeviceDay, b: DeviceDay | undefined): boolean {
  return (
    b !== undefined &&
    a.device === b.device &&
    a.burdenSeconds === b.burdenSeconds &&
    a.longestEpisodeSeconds === b.longestEpisodeSeconds
  );
}
