import 'server-only';
import { getServerSession } from 'next-auth';
import { z } from 'zod';
import type { Actor } from '@/lib/records/actor';
import { actorOfSession } from '@/lib/records/actor-of-session';
import { authOptions } from './auth-options';
import { isAllowed, type Permission } from './permissions';

const sessionSchema = z.object({ userId: z.uuid(), tokenVersion: z.int() });

/** Who is signed in, read anew from the database; null without a valid session. */
export async function currentActor(): Promise<Actor | null> {
  const parsed = sessionSchema.safeParse(await getServerSession(authOptions));
  return parsed.success ? actorOfSession(parsed.data.userId, parsed.data.tokenVersion) : null;
}

export type Admission =
  | { readonly kind: 'admitted'; readonly actor: Actor }
  | { readonly kind: 'unauthenticated' }
  | { readonly kind: 'forbidden'; readonly actor: Actor };

/** Whether the person who is signed in may do this: by the role in the database, not the one in the token. */
export async function admit(permission: Permission): Promise<Admission> {
  const actor = await currentActor();
  if (!actor) return { kind: 'unauthenticated' };
  return isAllowed(actor.role, permission) ? { kind: 'admitted', actor } : { kind: 'forbidden', actor };
}
