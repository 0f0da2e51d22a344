import 'server-only';
import { notFound } from 'next/navigation';
import { isAllowed } from '@/lib/access/permissions';
import { readDraft } from '@/lib/records/drafts/read';
import { readLesions } from '@/lib/records/lesions/read';
import { openCase } from '../load';

/** The lesion set of a case, and what the patient's earlier sets were. */
export async function loadLesions(typedId: string) {
  const { actor, head, may, standing } = await openCase(typedId, 'cases.read');
  const lesions = await readLesions(actor, head.id);
  if (!lesions) notFound();
  return { head, standing, may: { ...may, lesions: isAllowed(actor.role, 'lesions.write') }, lesions };
}

/** The same for those who may change it. */
export async function loadLesionEdit(typedId: string) {
  const { actor, head } = await openCase(typedId, 'lesions.write');
  const [lesions, draft] = await Promise.all([
    readLesions(actor, head.id),
    readDraft(actor, 'lesions', head.id),
  ]);
  if (!lesions) notFound();
  return { head, lesions, draft };
}
