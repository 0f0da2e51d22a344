'use server';

import { z } from 'zod';
import type { FindAnswer } from '@/components/registry/find-patient';
import { admit } from '@/lib/access/current-actor';
import { findPatients } from '@/lib/records/patients/read';
import { rehashHospitalNumber } from '@/lib/records/patients/rehash';

const typedSchema = z.string().trim().min(1).max(60);

/** Finds patients by what was typed. It travels in a body, never in an address, and is neither stored nor logged. */
export async function findPatient(typed: string): Promise<FindAnswer> {
  const admission = await admit('cases.read');
  if (admission.kind === 'unauthenticated') {
    return { kind: 'refused', message: 'Your session has ended. Sign in again, then search once more.' };
  }
  if (admission.kind === 'forbidden')
    return { kind: 'refused', message: 'Your role may not look for patients.' };
  const text = typedSchema.safeParse(typed);
  if (!text.success) return { kind: 'refused', message: 'Type a code, its beginning, or a hospital number.' };
  const { actor } = admission;
  const found = await findPatients(actor, text.data);
  for (const patient of found) {
    if (patient.matchedOlderKey) await rehashHospitalNumber(actor, patient.id, text.data);
  }
  return {
    kind: 'found',
    lines: found.map(({ id, code, latestCaseId }) => ({
      code,
      href: latestCaseId === null ? `/patients/${id}` : `/cases/${latestCaseId}`,
      note: latestCaseId === null ? 'no procedure recorded yet' : 'latest case',
    })),
  };
}
