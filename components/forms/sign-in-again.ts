import { signIn } from 'next-auth/react';

export type SignInAnswer = 'signed-in' | 'refused' | 'unreachable';

/** Tries to sign in without leaving the page. Never says which of the two was wrong: the server does not tell. */
export async function trySignIn(signInName: string, password: string): Promise<SignInAnswer> {
  try {
    const answer = await signIn('credentials', { redirect: false, signInName, password });
    return answer?.ok && !answer.error ? 'signed-in' : 'refused';
  } catch {
    // next-auth throws only when the server gives no readable answer; the person is told so.
    return 'unreachable';
  }
}

export const SIGN_IN_WORDS: Record<Exclude<SignInAnswer, 'signed-in'>, string> = {
  refused:
    'Sign-in name and password do not belong together, or the account is closed. Check both; after several wrong tries wait a few minutes.',
  unreachable: 'The server did not answer. Check the connection, then try again.',
};
