import 'server-only';
import { requireActor } from '@/app/require-actor';
import { LAB_SECTIONS, type LabSection } from '@/components/shell/lab-sections';
import { isAllowed, PERMISSIONS } from '@/lib/access/permissions';

/** The sections of the Lab page that this person may open. */
export async function loadLab(): Promise<readonly LabSection[]> {
  const actor = await requireActor('lab.read');
  const held: readonly string[] = PERMISSIONS.filter((permission) => isAllowed(actor.role, permission));
  return LAB_SECTIONS.filter(({ permission }) => held.includes(permission));
}
