import 'server-only';
import { createFirstAdministrator } from '@/lib/records/users/first-administrator';
import type { WriteResult } from '@/lib/registry/write-result';
import { hashPassword } from './passwords';

export interface FirstAdministrator {
  readonly token: string;
  readonly signInName: string;
  readonly code: string;
  readonly password: string;
}

/** Makes the first administrator of a new lab and uses up the one-time link. */
export async function makeFirstAdministrator(typed: FirstAdministrator): Promise<WriteResult> {
  const { token, signInName, code, password } = typed;
  const { id } = await createFirstAdministrator(token, {
    signInName,
    code,
    passwordHash: await hashPassword(password),
  });
  return {
    kind: 'saved',
    id,
    version: 1,
    message: 'The administrator is made. Sign in now.',
    href: '/sign-in',
  };
}
