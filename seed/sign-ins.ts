import { readFileSync } from 'node:fs';
import { hash } from '@node-rs/argon2';
import { z } from 'zod';
import { codesOf, ROLES } from '../lib/registry/vocabulary';

const SHOWN_CODES = {
  coordinator: 'C-01',
  physician: 'P-01',
  director: 'D-01',
  administrator: 'A-01',
} as const;

const signInSchema = z
  .strictObject({
    role: z.enum(codesOf(ROLES)),
    signInName: z.string().trim().min(1).max(80),
    /** Shown instead of a name; by role when left out. */
    code: z.string().min(1).max(20).optional(),
    password: z.string().min(12).max(256),
  })
  .transform((signIn) => ({ ...signIn, code: signIn.code ?? SHOWN_CODES[signIn.role] }));
export type DemoSignIn = z.output<typeof signInSchema>;

/** The people of the demo lab, from the file that the launcher wrote. Throws an error that says what to mend, without any password. */
export function readDemoSignIns(file: string | undefined): DemoSignIn[] {
  if (file === undefined || file === '') {
    throw new Error(
      'AFTERBEAT_DEMO_SIGN_INS is not set. "npm start" sets it to the file with the demo sign-ins.',
    );
  }
  const result = z
    .array(signInSchema)
    .min(1)
    .max(20)
    .safeParse(JSON.parse(readFileSync(file, 'utf8')));
  if (result.success) return result.data;
  const lines = result.error.issues.map((issue) => `${issue.path.join('.')}: ${issue.message}`);
  throw new Error(`The demo sign-ins in ${file} cannot be used. ${lines.join('; ')}.`);
}

/** Encoded argon2id with the cost of lib/access/passwords.ts, which checks it at sign-in. */
export function hashDemoPassword(password: string): Promise<string> {
  return hash(password.normalize('NFC'), { memoryCost: 19_456, timeCost: 2, parallelism: 1 });
}
