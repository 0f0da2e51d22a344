/**
 * Patient codes: 'P-' + 4 to 8 characters + '-' + one check character. The alphabet has 29 characters: figures and capital
 * letters without 0, 1, I, L, O, U, Z, which are misread for others. 29 is prime, and the characters are weighted 1 (check
 * character), 2, 3, ... from the right so that the sum is a multiple of 29: the principle of the ISBN-10 check digit
 * (ISO 2108, modulus 11) at another prime. Distinct weights below a prime catch every single wrong character and every swap
 * of two characters; the tests try them all.
 */
export const CODE_ALPHABET = '23456789ABCDEFGHJKMNPQRSTVWXY';
const PRIME = 29;
const SHAPE = /^P-([0-9A-Z]{4,8})-([0-9A-Z])$/;
/** Largest multiple of 29 in a byte: bytes from here on are skipped, so that every character is equally likely. */
const FAIR_BYTES = 232;

export const SHORTEST_CODE = 4;
export const LONGEST_CODE = 8;

/** Weighted sum of the payload, its last character weighing 2; null when a character is not of the alphabet. */
function weightedSum(payload: string): number | null {
  let sum = 0;
  for (let index = 0; index < payload.length; index += 1) {
    const value = CODE_ALPHABET.indexOf(payload.charAt(index));
    if (value < 0) return null;
    sum += value * (payload.length - index + 1);
  }
  return sum;
}

/** True for a complete code in its written form whose check character is right. */
export function isPatientCode(text: string): boolean {
  const match = SHAPE.exec(text);
  if (!match) return false;
  const sum = weightedSum(match[1] ?? '');
  const check = CODE_ALPHABET.indexOf(match[2] ?? '-');
  return sum !== null && check >= 0 && (sum + check) % PRIME === 0;
}

/**
 * A code from random bytes (about one byte in eleven is skipped: give at least four times `length`). Pure: the caller
 * draws the bytes and tries again when the code is taken. Throws a RangeError for a length outside 4 to 8 or too few bytes.
 */
export function makePatientCode(randomBytes: Uint8Array, length: number = SHORTEST_CODE): string {
  if (!Number.isInteger(length) || length < SHORTEST_CODE || length > LONGEST_CODE) {
    throw new RangeError(`a patient code has ${SHORTEST_CODE} to ${LONGEST_CODE} characters, not ${length}`);
  }
  const fair = [...randomBytes].filter((byte) => byte < FAIR_BYTES).slice(0, length);
  if (fair.length < length)
    throw new RangeError(`too few random bytes for a patient code: ${randomBytes.length}`);
  const payload = fair.map((byte) => CODE_ALPHABET.charAt(byte % PRIME)).join('');
  const check = (PRIME - ((weightedSum(payload) ?? 0) % PRIME)) % PRIME;
  return `P-${payload}-${CODE_ALPHABET.charAt(check)}`;
}

/** How long new codes should be, so that a drawn code is already taken less than once in twenty. */
export function codeLengthFor(patientCount: number): number {
  let length = SHORTEST_CODE;
  while (length < LONGEST_CODE && PRIME ** length < 20 * patientCount) length += 1;
  return length;
}

/**
 * The written form of a code typed with small letters, blanks, other dashes or no hyphens; null when it is no patient code.
 * A wrong character is never replaced by a likely one: that might find somebody else.
 */
export function normalisePatientCode(typed: string): string | null {
  if (typed.length > 40) return null;
  const bare = typed.toUpperCase().replace(/[\s\p{Pd}]/gu, '');
  if (!bare.startsWith('P')) return null;
  const code = `P-${bare.slice(1, -1)}-${bare.slice(-1)}`;
  return isPatientCode(code) ? code : null;
}
