import 'server-only';
import { z } from 'zod';
import type { DraftForm, StoredDraft } from '../../registry/draft-forms';
import type { Actor } from '../actor';
import { database } from '../database';

const payloadSchema = z.record(z.string(), z.unknown());

/** This person's draft of a form about a subject, or null. Nobody reads another person's drafts. */
export async function readDraft(actor: Actor, form: DraftForm, subject: string): Promise<StoredDraft | null> {
  const { labId, id: userId } = actor;
  const row = await database().draft.findUnique({
    where: { labId_userId_form_subject: { labId, userId, form, subject } },
  });
  return row && { values: payloadSchema.parse(row.payload), at: row.updatedAt.toISOString() };
}
