import { z } from 'zod';

/** NIST SP 800-63B-4: at least 15 characters where a password is the only factor, and no rules about kinds of characters. */
const PASSWORD_MIN = 15;
const PASSWORD_MAX = 256;

/** The first administrator, made once through a link that the terminal printed. The server action parses with this too. */
export const firstRunSchema = z
  .strictObject({
    token: z.string().min(1, 'The link is incomplete. Copy it whole from the terminal.').max(200),
    signInName: z
      .string()
      .trim()
      .toLowerCase()
      .regex(
        /^[a-z0-9][a-z0-9._-]{2,39}$/,
        'Sign-in name needs 3 to 40 letters, figures, points, hyphens or underscores, a letter or figure first.',
      ),
    code: z
      .string()
      .trim()
      .toUpperCase()
      .regex(/^[A-Z]{1,3}-\d{2}$/, 'Code is one to three letters, a hyphen and two figures, such as A-01.'),
    password: z
      .string()
      .min(
        PASSWORD_MIN,
        `Password needs at least ${PASSWORD_MIN} characters. A few words in a row are easy to keep.`,
      )
      .max(PASSWORD_MAX, `Password may have at most ${PASSWORD_MAX} characters.`),
    passwordAgain: z.string().max(PASSWORD_MAX, `Password may have at most ${PASSWORD_MAX} characters.`),
  })
  .superRefine((form, context) => {
    if (form.password !== form.passwordAgain) {
      context.addIssue({
        code: 'custom',
        path: ['passwordAgain'],
        message: 'The two passwords differ. Type the same one twice.',
      });
    }
    if (form.signInName !== '' && form.password.toLowerCase().includes(form.signInName)) {
      context.addIssue({
        code: 'custom',
        path: ['password'],
        message: 'Password contains the sign-in name. Choose one that does not.',
      });
    }
  });

export type FirstRunInput = z.input<typeof firstRunSchema>;
