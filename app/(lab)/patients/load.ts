import 'server-only';
import { notFound } from 'next/navigation';
import { z } from 'zod';
import { requireActor } from '@/app/require-actor';
import { isAllowed } from '@/lib/access/permissions';
import { readDraft } from '@/lib/records/drafts/read';
import { readOperators } from '@/lib/records/labs/operators';
import { readPatientContext } from '@/lib/records/patients/context';
import { readPatientForEditing } from '@/lib/records/patients/read';
import { readProcedurePlace } from '@/lib/records/procedures/context';
import { calendarDay } from '@/lib/registry/calendar-day';
import { todayText } from '@/lib/runtime/clock';

const idSchema = z.uuid();
const today = () => calendarDay(todayText());

/** Who may register a patient is asked before the form is shown. */
export async function loadNewPatient() {
  await requireActor('patient.write');
  return { today: today() };
}

/** A patient's entry with their procedures, as the form shows it. */
export async function loadPatient(typedId: string) {
  const actor = await requireActor('cases.read');
  const id = idSchema.safeParse(typedId);
  const patient = id.success ? await readPatientForEditing(actor, id.data) : null;
  if (!patient) notFound();
  return {
    patient,
    context: { ...(await readPatientContext(actor, patient.id)), today: today() },
    mayChange: isAllowed(actor.role, 'patient.write'),
    mayRecord: isAllowed(actor.role, 'procedure.write'),
  };
}

/** What the form of a new procedure needs. */
export async function loadNewProcedure(typedId: string) {
  const actor = await requireActor('procedure.write');
  const id = idSchema.safeParse(typedId);
  const place = id.success ? await readProcedurePlace(actor, id.data) : null;
  if (!place) notFound();
  const [operators, draft] = await Promise.all([
    readOperators(actor),
    readDraft(actor, 'procedure-new', place.patientId),
  ]);
  return { place, context: { ...place.context, today: today() }, operators, draft };
}
