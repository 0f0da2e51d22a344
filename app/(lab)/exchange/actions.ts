'use server';

import { randomBytes, randomUUID } from 'node:crypto';
import { revalidatePath } from 'next/cache';
import { writeAction } from '@/lib/access/action';
import { admit } from '@/lib/access/current-actor';
import { sayFinding } from '@/lib/exchange/import-finding';
import { findEarlierImport, publishImport } from '@/lib/exchange/publish-import';
import { type DecodedRhythm, decodeRhythmCsv } from '@/lib/exchange/rhythm-csv';
import { parseRhythmMapping, type RhythmMapping } from '@/lib/exchange/rhythm-mapping';
import { reportOf } from '@/lib/exchange/rhythm-report';
import type { Actor } from '@/lib/records/actor';
import { bulkLoadPatients } from '@/lib/records/bulk-load';
import { readCohort } from '@/lib/records/cohort';
import { readImports } from '@/lib/records/imports/read';
import { calendarDay } from '@/lib/registry/calendar-day';
import { type Finding, findingsOfZod, refusal } from '@/lib/registry/findings';
import { todayText } from '@/lib/runtime/clock';
import { type CheckAnswer, MAX_SHOWN_REFUSALS } from './check-answer';
import { publishSchema, receive, type Upload, uploadSchema } from './upload';

type Reading =
  | {
      readonly kind: 'read';
      readonly decoded: DecodedRhythm;
      readonly mapping: RhythmMapping;
      readonly sha256: Uint8Array<ArrayBuffer>;
    }
  | { readonly kind: 'refused'; readonly findings: readonly Finding[] };

/** Reads a file and tells what publishing it would write; writes nothing. */
export async function checkRhythmFile(input: unknown): Promise<CheckAnswer> {
  const admission = await admit('exchange.import');
  if (admission.kind === 'unauthenticated') return { kind: 'unauthenticated' };
  if (admission.kind === 'forbidden') {
    return { kind: 'refused', findings: [refusal('', 'Your role may not import.')] };
  }
  const upload = uploadSchema.safeParse(input);
  if (!upload.success) return { kind: 'refused', findings: findingsOfZod(upload.error) };
  const reading = readUpload(upload.data);
  if (reading.kind === 'refused') return reading;
  const { decoded, mapping, sha256 } = reading;
  const earlier = findEarlierImport(await readImports(admission.actor), mapping.source, sha256);
  const report = reportOf(decoded, mapping);
  return {
    kind: 'checked',
    report: { ...report, refusals: report.refusals.slice(0, MAX_SHOWN_REFUSALS) },
    refusedRows: report.refusals.length,
    importedOn: earlier ? earlier.at.slice(0, 10) : null,
  };
}

/** Publishes a file that was checked: reads it again from the beginning and writes all of it, or nothing. */
export const publishRhythmFile = writeAction(
  { permission: 'exchange.import', schema: publishSchema },
  async ({ actor }, { acceptRefused, ...upload }) => {
    const reading = readUpload(upload);
    if (reading.kind === 'refused') return { kind: 'invalid', findings: reading.findings };
    const { decoded, mapping, sha256 } = reading;
    if (decoded.refusals.length > 0 && !acceptRefused) {
      const message = 'Rows are refused. Mend the file, or say that they may be left out.';
      return { kind: 'invalid', findings: [refusal('acceptRefused', message)] };
    }
    if (decoded.patients.length === 0) {
      return {
        kind: 'invalid',
        findings: [refusal('', 'No reading was accepted: there is nothing to write.')],
      };
    }
    const published = await publishImport(decoded, mapping, await meansOf(actor, sha256));
    if (published.kind !== 'written') return { kind: 'invalid', findings: [refusal('', published.message)] };
    revalidatePath('/exchange');
    const message = `Written: ${published.patients} patients, ${published.readings} readings.`;
    return { kind: 'saved', id: published.batchId, version: 1, message };
  },
);

function readUpload(upload: Upload): Reading {
  const arrival = receive(upload);
  if (arrival.kind === 'damaged') return { kind: 'refused', findings: [refusal('file', arrival.message)] };
  const parsed = parseRhythmMapping(upload.mappingText);
  if (parsed.kind === 'refused') {
    const findings = parsed.findings.map(({ field, message }) =>
      refusal('mapping', field === '' ? message : `${field}: ${message}`),
    );
    return { kind: 'refused', findings };
  }
  const decoded = decodeRhythmCsv(arrival.bytes, parsed.mapping, calendarDay(todayText()));
  if (decoded.kind === 'refused') {
    return { kind: 'refused', findings: [refusal('file', sayFinding(decoded.finding))] };
  }
  return { kind: 'read', decoded, mapping: parsed.mapping, sha256: arrival.sha256 };
}

async function meansOf(
  actor: Actor,
  fileSha256: Uint8Array<ArrayBuffer>,
): Promise<Parameters<typeof publishImport>[2]> {
  const { patientCode } = await readCohort(actor);
  return {
    fileSha256,
    nextId: randomUUID,
    randomBytes,
    takenCodes: patientCode,
    load: ({ patients, batch }) => bulkLoadPatients(actor, patients, { action: 'lab.import', batch }),
  };
}
