import 'server-only';
import type { NextAuthOptions } from 'next-auth';
import Credentials from 'next-auth/providers/credentials';
import { z } from 'zod';
import { readSignInFacts } from '@/lib/records/users/read';
import { logInfo } from '@/lib/runtime/log';
import { isPasswordRight, PASSWORD_MAX } from './passwords';
import { mayTry, noteFailure, noteSuccess } from './sign-in-limits';

const credentialsSchema = z.object({
  signInName: z.string().trim().toLowerCase().min(1).max(80),
  password: z.string().min(1).max(PASSWORD_MAX),
});

const TWELVE_HOURS_S = 12 * 60 * 60;

/**
 * Sign-in by name and password. The cookie says only who signed in and at which token version; whether the account still
 * stands, and its role, are read from the database on every request (current-actor.ts).
 */
export const authOptions: NextAuthOptions = {
  session: { strategy: 'jwt', maxAge: TWELVE_HOURS_S, updateAge: TWELVE_HOURS_S },
  pages: { signIn: '/sign-in', error: '/sign-in' },
  providers: [
    Credentials({
      credentials: { signInName: {}, password: {} },
      async authorize(typed) {
        const parsed = credentialsSchema.safeParse(typed);
        if (!parsed.success) return null;
        const { signInName, password } = parsed.data;
        if (!(await mayTry(signInName))) return null;
        const facts = await readSignInFacts(signInName);
        const right = await isPasswordRight(password, facts?.passwordHash ?? null);
        if (!right || !facts || facts.disabled) {
          await noteFailure(signInName);
          logInfo({ event: 'sign-in', kind: 'refused' });
          return null;
        }
        await noteSuccess(signInName);
        logInfo({ event: 'sign-in', kind: 'accepted', actor: facts.userId });
        return { id: facts.userId, tokenVersion: facts.tokenVersion };
      },
    }),
  ],
  callbacks: {
    jwt({ token, user }) {
      if (user)
        Object.assign(token, { sub: user.id, tokenVersion: 'tokenVersion' in user ? user.tokenVersion : 0 });
      return token;
    },
    session({ session, token }) {
      return { expires: session.expires, userId: token.sub, tokenVersion: token.tokenVersion };
    },
  },
};
