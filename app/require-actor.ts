import 'server-only';
import { forbidden, redirect } from 'next/navigation';
import { admit } from '@/lib/access/current-actor';
import type { Permission } from '@/lib/access/permissions';
import type { Actor } from '@/lib/records/actor';

/** The signed-in person for a page: strangers go to sign-in, others are refused before anything is read or streamed. */
export async function requireActor(permission: Permission): Promise<Actor> {
  const admission = await admit(permission);
  if (admission.kind === 'unauthenticated') redirect('/sign-in');
  if (admission.kind === 'forbidden') forbidden();
  return admission.actor;
}
