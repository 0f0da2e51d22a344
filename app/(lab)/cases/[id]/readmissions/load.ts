import 'server-only';
import { notFound } from 'next/navigation';
import { z } from 'zod';
import { readHarmPlace } from '@/lib/records/complications/context';
import { readDraft } from '@/lib/records/drafts/read';
import { keptPrefix, readKeptValues } from '@/lib/records/kept-values/read';
import { readReadmissionForEditing } from '@/lib/records/readmissions/read';
import { calendarDay } from '@/lib/registry/calendar-day';
import { todayText } from '@/lib/runtime/clock';
import { openCase } from '../load';

const idSchema = z.uuid();
const today = () => calendarDay(todayText());

/** What the form of a new readmission needs. */
export async function loadNewReadmission(typedId: string) {
  const { actor, head } = await openCase(typedId, 'complication.write');
  const place = await readHarmPlace(actor, head.id);
  if (!place) notFound();
  const draft = await readDraft(actor, 'readmission-new', head.id);
  return { head, context: { ...place.readmission, today: today() }, draft };
}

/** A stored readmission for its form; a void one has none. */
export async function loadReadmissionEdit(typedId: string, typedReadmissionId: string) {
  const { actor, head } = await openCase(typedId, 'complication.write');
  const id = idSchema.safeParse(typedReadmissionId);
  const readmission = id.success ? await readReadmissionForEditing(actor, id.data) : null;
  if (!readmission || readmission.procedureId !== head.id || readmission.isVoided) notFound();
  const place = await readHarmPlace(actor, head.id, readmission.id);
  if (!place) notFound();
  const draft = await readDraft(actor, 'readmission', readmission.id);
  const kept = await readKeptValues(actor, head.id, keptPrefix.readmission(readmission.id));
  const values = { ...readmission.values, kept };
  return {
    head,
    readmission: { ...readmission, values },
    context: { ...place.readmission, today: today() },
    draft,
  };
}
