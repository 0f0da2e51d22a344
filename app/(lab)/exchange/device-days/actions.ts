'use server';

import { revalidatePath } from 'next/cache';
import { z } from 'zod';
import { writeAction } from '@/lib/access/action';
import { admit } from '@/lib/access/current-actor';
import { type DecodedDeviceDays, decodeDeviceCsv } from '@/lib/exchange/device-csv';
import { type DevicePlan, planDeviceImport } from '@/lib/exchange/device-plan';
import { counted, deviceReportOf } from '@/lib/exchange/device-report';
import { sayFinding } from '@/lib/exchange/import-finding';
import { publishDeviceDays } from '@/lib/exchange/publish-device-days';
import type { Actor } from '@/lib/records/actor';
import { readDevicePatients } from '@/lib/records/device-days/read';
import { openDeviceBatch, storeDeviceDays } from '@/lib/records/device-days/write';
import { calendarDay } from '@/lib/registry/calendar-day';
import { type Finding, findingsOfZod, refusal } from '@/lib/registry/findings';
import { todayText } from '@/lib/runtime/clock';
import { fileSchema, receive } from '../upload';
import { type DeviceCheck, MAX_SHOWN } from './check-answer';

const publishSchema = fileSchema.extend({
  acceptRefused: z.boolean(),
  onDifference: z.enum(
    ['keep', 'replace', ''],
    'Say what to do with days that are stored with other values.',
  ),
});

type Reading =
  | {
      readonly kind: 'read';
      readonly decoded: DecodedDeviceDays;
      readonly plan: DevicePlan;
      readonly fileSha256: Uint8Array<ArrayBuffer>;
    }
  | { readonly kind: 'refused'; readonly findings: readonly Finding[] };

/** Reads a file of device days and tells what publishing it would write; writes nothing. */
export async function checkDeviceFile(input: unknown): Promise<DeviceCheck> {
  const admission = await admit('exchange.import');
  if (admission.kind === 'unauthenticated') return { kind: 'unauthenticated' };
  if (admission.kind === 'forbidden') {
    return { kind: 'refused', findings: [refusal('', 'Your role may not import.')] };
  }
  const file = fileSchema.safeParse(input);
  if (!file.success) return { kind: 'refused', findings: findingsOfZod(file.error) };
  const reading = await readUpload(admission.actor, file.data);
  if (reading.kind === 'refused') return reading;
  const report = deviceReportOf(reading.decoded, reading.plan);
  return {
    kind: 'checked',
    report: {
      ...report,
      refusals: report.refusals.slice(0, MAX_SHOWN),
      differences: report.differences.slice(0, MAX_SHOWN),
    },
    refusedRows: report.refusals.length,
  };
}

/** Publishes a file that was checked: reads it again from the beginning and writes it patient by patient. */
export const publishDeviceFile = writeAction(
  { permission: 'exchange.import', schema: publishSchema },
  async ({ actor }, { acceptRefused, onDifference, ...file }) => {
    const reading = await readUpload(actor, file);
    if (reading.kind === 'refused') return { kind: 'invalid', findings: reading.findings };
    const { decoded, plan, fileSha256 } = reading;
    if (plan.refusals.length > 0 && !acceptRefused) {
      const message = 'Rows are refused. Mend the file, or say that they may be left out.';
      return { kind: 'invalid', findings: [refusal('acceptRefused', message)] };
    }
    if (plan.differences.length > 0 && onDifference === '') {
      const message = 'Days are stored with other values. Say whether to keep or to replace them.';
      return { kind: 'invalid', findings: [refusal('onDifference', message)] };
    }
    const published = await publishDeviceDays(decoded, plan, onDifference || 'keep', {
      openBatch: (batch) => openDeviceBatch(actor, { ...batch, fileSha256 }),
      storePatient: (batchId, patient) => storeDeviceDays(actor, batchId, patient),
    });
    if (!published) {
      const message = 'Everything in the file is stored already; there is nothing to write.';
      return { kind: 'invalid', findings: [refusal('', message)] };
    }
    revalidatePath('/exchange/device-days');
    const message = `Written: ${counted(published.days, 'day', 'days')} of ${counted(published.patients, 'patient', 'patients')}.`;
    return { kind: 'saved', id: published.batchId, version: 1, message };
  },
);

async function readUpload(actor: Actor, file: z.infer<typeof fileSchema>): Promise<Reading> {
  const arrival = receive(file);
  if (arrival.kind === 'damaged') return { kind: 'refused', findings: [refusal('file', arrival.message)] };
  const decoded = decodeDeviceCsv(arrival.bytes, calendarDay(todayText()));
  if (decoded.kind === 'refused') {
    return { kind: 'refused', findings: [refusal('file', sayFinding(decoded.finding))] };
  }
  const codes = [...new Set(decoded.rows.map(({ patientCode }) => patientCode))];
  const plan = planDeviceImport(decoded, await readDevicePatients(actor, codes));
  return { kind: 'read', decoded, plan, fileSha256: arrival.sha256 };
}
