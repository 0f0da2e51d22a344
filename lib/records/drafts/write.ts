import 'server-only';
import { randomUUID } from 'node:crypto';
import type { DraftForm } from '../../registry/draft-forms';
import { now } from '../../runtime/clock';
import type { Actor } from '../actor';
import type { Prisma } from '../database';
import { database } from '../database';
import { keep } from '../keep';

interface DraftKey {
  readonly form: DraftForm;
  readonly subject: string;
}

/** Keeps a person's unfinished values for one form, in place of what was kept before. Answers when, or null without such a subject. */
export async function keepDraft(
  actor: Actor,
  { form, subject, values }: DraftKey & { readonly values: Prisma.InputJsonValue },
): Promise<Date | null> {
  // A schedule is about the lab: no patient stands behind it.
  const isOfLab = form === 'schedule' && subject === actor.labId;
  const patientId = isOfLab ? null : await patientOf(actor, form, subject);
  if (patientId === null && !isOfLab) return null;
  const { labId, id: userId } = actor;
  const updatedAt = now();
  const place = { labId, userId, form, subject };
  await keep(({ draft }) =>
    draft.upsert({
      where: { labId_userId_form_subject: place },
      create: { ...place, id: randomUUID(), patientId, payload: values, updatedAt },
      update: { payload: values, patientId, updatedAt, version: { increment: 1 } },
    }),
  );
  return updatedAt;
}

/** Throws away a person's draft of one form; nothing happens when there is none. */
export async function dropDraft(actor: Actor, { form, subject }: DraftKey): Promise<void> {
  const { labId, id: userId } = actor;
  await keep(({ draft }) => draft.deleteMany({ where: { labId, userId, form, subject } }));
}

const OF_PROCEDURE = { procedure: { select: { patientId: true } } } as const;

/** Whose values the form holds: a draft goes with its patient when that patient is erased. */
async function patientOf({ labId }: Actor, form: DraftForm, subject: string): Promise<string | null> {
  const db = database();
  const where = { labId_id: { labId, id: subject } };
  switch (form) {
    case 'procedure-new':
      return (await db.patient.findUnique({ where, select: { id: true } }))?.id ?? null;
    case 'visit':
      return (await db.followUpVisit.findUnique({ where, select: { patientId: true } }))?.patientId ?? null;
    case 'complication':
    case 'adjudication': {
      const row = await db.complication.findUnique({ where, select: OF_PROCEDURE });
      return row?.procedure.patientId ?? null;
    }
    case 'readmission': {
      const row = await db.readmission.findUnique({ where, select: OF_PROCEDURE });
      return row?.procedure.patientId ?? null;
    }
    case 'procedure':
    case 'lesions':
    case 'visit-new':
    case 'complication-new':
    case 'readmission-new':
      return (await db.procedure.findUnique({ where, select: { patientId: true } }))?.patientId ?? null;
    case 'schedule':
      return null;
  }
}
