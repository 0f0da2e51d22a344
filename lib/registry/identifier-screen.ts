/** Why a text may tell who a patient is; the order is that in which the reasons are told. */
const SIGNS: readonly { readonly pattern: RegExp; readonly reason: string; readonly isDigits?: true }[] = [
  { pattern: /[^\s@]{1,64}@[^\s@]{1,64}\.[a-z]{2,24}/i, reason: 'it looks like a mail address' },
  { pattern: /\b\d{1,2}[./-]\d{1,2}[./-](\d{4}|\d{2})\b/, reason: 'it looks like a date of birth' },
  { pattern: /\b(19|20)\d{2}-\d{2}-\d{2}\b/, reason: 'it looks like a date of birth' },
  {
    pattern: /\b(mrs?|ms|miss|dr|prof|herr|frau|mme|sr|sra)\b\.?\s+\p{Lu}/iu,
    reason: 'it looks like a name',
  },
  { pattern: /\b\p{Lu}\p{Ll}{2,}[\s,]+\p{Lu}\p{Ll}{2,}\b/u, reason: 'it looks like a name' },
  { pattern: /\d(?:[\s./-]?\d){5,}/, reason: 'it looks like a hospital or telephone number', isDigits: true },
];

const LONGEST_SCREENED = 4000;

/**
 * Why a text may hold an identifier, in words that follow "because"; null when nothing speaks for it. `digitsAllowed` for
 * fields that hold long numbers by nature (a lot). The screen warns; it never alters a text, and misses are possible.
 */
export function identifierIn(text: string, digitsAllowed = false): string | null {
  const screened = text.slice(0, LONGEST_SCREENED);
  return (
    SIGNS.find(({ pattern, isDigits }) => !(digitsAllowed && isDigits) && pattern.test(screened))?.reason ??
    null
  );
}

export interface ScreenedDraft {
  /** The values without the texts that were flagged. */
  readonly values: unknown;
  readonly flagged: readonly { readonly field: string; readonly reason: string }[];
}

/** Fields whose names say that a day is expected. */
const isDayField = (path: string): boolean => /On$/.test(path);
const DIGITS_ALLOWED: readonly string[] = ['deviceLot'];
/** An id, a code of a list, a number or a day by itself tells nothing. */
const IS_PLAIN =
  /^(?:[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}|[a-z0-9]+(?:-[a-z0-9]+)*|[+-]?\d{1,5}(?:[.,]\d{1,4})?)$/;

/** Takes out of a form's values every text that may hold an identifier: it stays in the page until it is mended. */
export function screenDraft(values: unknown): ScreenedDraft {
  const flagged: { field: string; reason: string }[] = [];
  const clean = (value: unknown, path: string): unknown => {
    if (Array.isArray(value)) return value.map((item, index) => clean(item, joined(path, String(index))));
    if (typeof value === 'object' && value !== null) {
      return Object.fromEntries(
        Object.entries(value).map(([name, member]) => [name, clean(member, joined(path, name))]),
      );
    }
    if (typeof value !== 'string') return value;
    const text = value.trim();
    const isLongNumber = /^\d{6,}$/.test(text);
    if (text === '' || (IS_PLAIN.test(text) && !isLongNumber) || isDayField(path)) return value;
    const reason = identifierIn(text, DIGITS_ALLOWED.includes(path));
    if (reason === null) return value;
    flagged.push({ field: path, reason });
    return '';
  };
  return { values: clean(values, ''), flagged };
}

const joined = (path: string, name: string): string => (path === '' ? name : `${path}.${name}`);
