/** Words that say nothing about a person and help to mend a file. */
const PLAIN_WORDS = new Set(
  'na n/a nan null none yes no true false unknown missing sinus sr nsr af afib afl at other'.split(' '),
);
/** Short numbers: up to four figures before the mark, so that no hospital number and no date passes. */
const SHORT_NUMBER = /^[+-]?\d{1,4}(?:[.,]\d{0,6})?$/;
const MAX_SHAPE = 16;

/**
 * A cell as a report may show it: short numbers and plain words as they are, anything else by its shape only (letters as
 * a or A, figures as 9), since a name or a hospital number may stand in any column of a file that slipped.
 */
export function showValue(cell: string, isIdentifier: (cell: string) => boolean): string {
  const text = cell.trim();
  if (text === '') return 'blank';
  if (!isIdentifier(text) && (SHORT_NUMBER.test(text) || PLAIN_WORDS.has(text.toLowerCase()))) return text;
  const shape = [...text.slice(0, MAX_SHAPE)].map(shapeOfCharacter).join('');
  return `${shape}${text.length > MAX_SHAPE ? '…' : ''} (shape only)`;
}

function shapeOfCharacter(character: string): string {
  if (/\p{Lu}/u.test(character)) return 'A';
  if (/\p{L}/u.test(character)) return 'a';
  if (/\p{N}/u.test(character)) return '9';
  return /[ .,;:/+=@()'"-]/.test(character) ? character : '?';
}
