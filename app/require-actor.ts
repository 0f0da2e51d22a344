import 'server-only';
import { headers } from 'next/headers';
import { forbidden, redirect } from 'next/navigation';
import { admit } from '@/lib/access/current-actor';
import type { Permission } from '@/lib/access/permissions';
import type { Actor } from '@/lib/records/actor';

/** The signed-in person for a page: strangers go to sign-in, others are refused before anything is read or streamed. */
export async function requireActor(permission: Permission): Promise<Actor> {
  const admission = await admit(permission);
  if (admission.kind === 'unauthenticated') return askToSignIn();
  if (admission.kind === 'forbidden') forbidden();
  return admission.actor;
}

/** Leads to sign-in, and from there back to the page that was asked for. Addresses hold no identifiers. */
export async function askToSignIn(): Promise<never> {
  const asked = (await headers()).get('x-asked-path');
  redirect(asked ? `/sign-in?callbackUrl=${encodeURIComponent(asked)}` : '/sign-in');
}
