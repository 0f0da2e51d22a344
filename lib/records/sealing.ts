import 'server-only';
import { createCipheriv, createDecipheriv, createHash, createHmac, randomBytes } from 'node:crypto';
import { ApplicationError } from '../runtime/application-error';
import { environment } from '../runtime/environment';
import type { Transaction } from './database';

/** Short public name of a secret key: the first 8 hex digits of its SHA-256. */
function keyId(key: Buffer): string {
  return createHash('sha256').update(key).digest('hex').slice(0, 8);
}

/** AES-256-GCM: 12 bytes nonce, ciphertext, 16 bytes tag. */
export function encrypt(key: Buffer, plain: Buffer): Buffer {
  const nonce = randomBytes(12);
  const cipher = createCipheriv('aes-256-gcm', key, nonce);
  return Buffer.concat([nonce, cipher.update(plain), cipher.final(), cipher.getAuthTag()]);
}

/** Throws when the key is another or a byte was changed. */
export function decrypt(key: Buffer, box: Uint8Array): Buffer {
  const bytes = Buffer.from(box);
  const decipher = createDecipheriv('aes-256-gcm', key, bytes.subarray(0, 12));
  decipher.setAuthTag(bytes.subarray(-16));
  return Buffer.concat([decipher.update(bytes.subarray(12, -16)), decipher.final()]);
}

const newest = (keys: readonly Buffer[]): Buffer => {
  const [key] = keys;
  if (!key) throw new Error('no key is configured');
  return key;
};

/** A new key for one patient, open and wrapped by the newest master key. */
export function makePatientKey(): { key: Buffer; wrapped: Uint8Array<ArrayBuffer>; masterKeyId: string } {
  const key = randomBytes(32);
  const master = newest(environment().AFTERBEAT_MASTER_KEY);
  return { key, wrapped: new Uint8Array(encrypt(master, key)), masterKeyId: keyId(master) };
}

/** Opens a wrapped patient key; throws when its master key is not among those configured. */
export function unwrapPatientKey(wrapped: Uint8Array, masterKeyId: string): Buffer {
  const master = environment().AFTERBEAT_MASTER_KEY.find((candidate) => keyId(candidate) === masterKeyId);
  if (!master) throw new ApplicationError('internal', `Master key ${masterKeyId} is not configured.`);
  return decrypt(master, wrapped);
}

/** The open key of a patient, or null after erasure. */
export async function keyOfPatient(
  tx: Transaction,
  labId: string,
  patientId: string,
): Promise<Buffer | null> {
  const row = await tx.patientKey.findUnique({ where: { labId_patientId: { labId, patientId } } });
  if (!row) throw new ApplicationError('internal', 'A patient without a key.');
  return row.wrappedKey === null ? null : unwrapPatientKey(row.wrappedKey, row.masterKeyId);
}

export interface KeyedHash {
  readonly hash: Uint8Array<ArrayBuffer>;
  readonly keyId: string;
}

/**
 * Keyed hashes (HMAC-SHA-256) of an outside number, one per configured key, newest first. Blanks and letter case do not
 * matter. The number itself is never stored or logged. `domain` keeps hospital numbers and import references apart.
 */
export function hashOutsideNumber(
  labId: string,
  domain: 'hospital-number' | 'import-reference',
  number: string,
): KeyedHash[] {
  const normal = number.normalize('NFKC').replaceAll(/\s+/gu, '').toUpperCase();
  return environment().AFTERBEAT_IDENTITY_KEY.map((key) => ({
    hash: new Uint8Array(createHmac('sha256', key).update(`${domain}\u0000${labId}\u0000${normal}`).digest()),
    keyId: keyId(key),
  }));
}
