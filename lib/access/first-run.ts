import 'server-only';
import { z } from 'zod';
import { createFirstAdministrator } from '@/lib/records/users/first-administrator';
import { type Finding, findingsOfZod, refusal } from '@/lib/registry/findings';
import { ApplicationError } from '@/lib/runtime/application-error';
import { hashPassword, PASSWORD_MAX, PASSWORD_MIN } from './passwords';

const firstRunSchema = z
  .strictObject({
    token: z.string().min(20, 'The link is incomplete. Copy it whole from the terminal.').max(200),
    signInName: z
      .string()
      .trim()
      .toLowerCase()
      .regex(
        /^[a-z0-9][a-z0-9._-]{2,39}$/,
        'Sign-in name: use 3 to 40 small letters, figures, points, strokes or hyphens.',
      ),
    code: z
      .string()
      .trim()
      .regex(/^[A-Z]{1,3}-\d{1,3}$/, 'Code: use the form A-01; it stands for you instead of your name.'),
    password: z
      .string()
      .min(
        PASSWORD_MIN,
        `Password: use at least ${PASSWORD_MIN} characters; several words are easy to remember.`,
      )
      .max(PASSWORD_MAX, `Password: use at most ${PASSWORD_MAX} characters.`),
    passwordAgain: z.string().max(PASSWORD_MAX),
  })
  .superRefine((typed, context) => {
    if (typed.password === typed.passwordAgain) return;
    context.addIssue({
      code: 'custom',
      path: ['passwordAgain'],
      message: 'The two passwords differ. Type the same one twice.',
    });
  });

export type FirstRunAnswer =
  | { readonly kind: 'made' }
  | { readonly kind: 'invalid'; readonly findings: readonly Finding[] };

/** Makes the first administrator of a new lab from the one-time link; all findings at once. */
export async function makeFirstAdministrator(typed: unknown): Promise<FirstRunAnswer> {
  const parsed = firstRunSchema.safeParse(typed);
  if (!parsed.success) return { kind: 'invalid', findings: findingsOfZod(parsed.error) };
  const { token, signInName, code, password } = parsed.data;
  try {
    await createFirstAdministrator(token, { signInName, code, passwordHash: await hashPassword(password) });
    return { kind: 'made' };
  } catch (error) {
    if (!(error instanceof ApplicationError) || error.kind === 'internal') throw error;
    return { kind: 'invalid', findings: [refusal('', error.message)] };
  }
}
