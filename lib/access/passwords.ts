import 'server-only';
import { hash, verify } from '@node-rs/argon2';

/** OWASP's first choice for argon2id (the package's default algorithm): 19 MiB, two passes, one lane. */
const COST = { memoryCost: 19_456, timeCost: 2, parallelism: 1 };

/** Longer passwords are refused unread. */
export const PASSWORD_MAX = 256;

const normal = (password: string) => password.normalize('NFC');

/** Encoded argon2id hash of a password; composed and decomposed accents give the same. */
export function hashPassword(password: string): Promise<string> {
  return hash(normal(password), COST);
}

let stranger: Promise<string> | undefined;

/** Checks a password; for an unknown name (null) it works as long on a hash that nobody knows, so that time tells nothing. */
export async function isPasswordRight(password: string, encoded: string | null): Promise<boolean> {
  stranger ??= hashPassword(crypto.randomUUID());
  const right = await verify(encoded ?? (await stranger), normal(password).slice(0, PASSWORD_MAX));
  return right && encoded !== null;
}
