import 'server-only';
import { database } from '../database';

export interface SignInFacts {
  readonly userId: string;
  readonly tokenVersion: number;
  readonly passwordHash: string;
  readonly disabled: boolean;
}

/** What sign-in needs to check a password; null for an unknown name. Called by access before there is an actor. */
export async function readSignInFacts(signInName: string): Promise<SignInFacts | null> {
  const user = await database().user.findUnique({ where: { signInName } });
  if (!user) return null;
  return {
    userId: user.id,
    tokenVersion: user.tokenVersion,
    passwordHash: user.passwordHash,
    disabled: user.disabledAt !== null,
  };
}
