'use server';

import { z } from 'zod';
import { admit } from '@/lib/access/current-actor';
import type { Permission } from '@/lib/access/permissions';
import { dropDraft, keepDraft } from '@/lib/records/drafts/write';
import {
  type DraftAnswer,
  type DraftForm,
  draftInputSchema,
  draftPlaceSchema,
} from '@/lib/registry/draft-forms';
import { screenDraft } from '@/lib/registry/identifier-screen';

/** A draft needs the same permission as the entry that it may become. */
const PERMISSION: Readonly<Record<DraftForm, Permission>> = {
  'procedure-new': 'procedure.write',
  procedure: 'procedure.write',
  lesions: 'lesions.write',
  'visit-new': 'visit.write',
  visit: 'visit.write',
  'complication-new': 'complication.write',
  complication: 'complication.write',
  adjudication: 'complication.adjudicate',
  'readmission-new': 'complication.write',
  readmission: 'complication.write',
  schedule: 'schedule.write',
};

const notKept = (message: string): DraftAnswer => ({ kind: 'notKept', message });
const jsonSchema = z.record(z.string(), z.json());

/** Keeps the unfinished values of a form, without texts that may hold an identifier. */
export async function keepFormDraft(input: unknown): Promise<DraftAnswer> {
  const asked = draftInputSchema.safeParse(input);
  if (!asked.success) return notKept('This form cannot be kept as a draft. Save it before you leave.');
  const { form, subject, values } = asked.data;
  const admission = await admit(PERMISSION[form]);
  if (admission.kind !== 'admitted') {
    return notKept('Your session has ended: the draft is not kept. What you typed is still on this page.');
  }
  const screened = screenDraft(values);
  const payload = jsonSchema.parse(screened.values);
  const at = await keepDraft(admission.actor, { form, subject, values: payload });
  return at === null
    ? notKept('What this form is about is gone. Nothing was kept.')
    : { kind: 'kept', at: at.toISOString(), flagged: screened.flagged };
}

/** Throws a draft away. */
export async function dropFormDraft(input: unknown): Promise<void> {
  const asked = draftPlaceSchema.safeParse(input);
  if (!asked.success) return;
  const admission = await admit(PERMISSION[asked.data.form]);
  if (admission.kind === 'admitted') await dropDraft(admission.actor, asked.data);
}
