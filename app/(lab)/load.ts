import 'server-only';
import { askToSignIn } from '@/app/require-actor';
import { currentActor } from '@/lib/access/current-actor';
import { isAllowed, PERMISSIONS } from '@/lib/access/permissions';
import { countCases } from '@/lib/records/cases/list';

/** Who is signed in, what they may open, and the counts beside the entries of the navigation. */
export async function loadFrame() {
  const actor = await currentActor();
  if (!actor) return askToSignIn();
  const permissions = PERMISSIONS.filter((permission) => isAllowed(actor.role, permission));
  return { role: actor.role, code: actor.code, permissions, counts: { '/cases': await countCases(actor) } };
}
