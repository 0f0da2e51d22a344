import { z } from 'zod';

const key32 = z
  .string()
  .max(400)
  .transform((text, context) => {
    const keys = text.split(',').map((part) => Buffer.from(part.trim(), 'base64'));
    if (keys.length === 0 || keys.some((key) => key.length !== 32)) {
      context.addIssue({
        code: 'custom',
        message: 'must be 32 bytes in base64 (several, newest first, parted by commas)',
      });
      return z.NEVER;
    }
    return keys;
  });

function isTimeZone(name: string): boolean {
  try {
    return new Intl.DateTimeFormat('en-GB', { timeZone: name }).resolvedOptions().timeZone !== '';
  } catch {
    return false;
  }
}

const environmentSchema = z.object({
  DATABASE_URL: z.string().min(1).max(2000),
  /** Wraps the keys of patients; stands outside the database. */
  AFTERBEAT_MASTER_KEY: key32,
  /** Hashes hospital numbers; stands outside the database. */
  AFTERBEAT_IDENTITY_KEY: key32,
  AFTERBEAT_DEMO: z.enum(['0', '1']).default('0'),
  /** Where the lab's day begins; without it the machine's own zone. */
  AFTERBEAT_TIME_ZONE: z
    .string()
    .max(60)
    .refine(isTimeZone, 'must be an IANA time zone such as Europe/Lisbon')
    .optional(),
  AFTERBEAT_LOG: z.enum(['debug', 'info', 'warn', 'error', 'silent']).default('info'),
  NEXTAUTH_URL: z.url().max(500).default('http://localhost:3000'),
});
export type Environment = z.infer<typeof environmentSchema>;

let parsed: Environment | undefined;

/** The environment, parsed once. Throws an error that names each variable that is missing or wrong, never its value. */
export function environment(): Environment {
  if (parsed) return parsed;
  const result = environmentSchema.safeParse(process.env);
  if (!result.success) {
    const lines = result.error.issues.map((issue) => `${issue.path.join('.')}: ${issue.message}`);
    throw new Error(`The environment is incomplete. ${lines.join('; ')}. "npm start" sets all of these.`);
  }
  parsed = result.data;
  return parsed;
}
