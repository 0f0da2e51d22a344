/** Widths in em, of usual fallback faces rather than of ours, which is slimmer: what is laid out by them never touches. */
const NARROW = new Set([..."iljtfrI.,:;()'|!-/[]"]);
const WIDE = new Set([...'mwMW@%']);

function emOf(character: string): number {
  if (character === ' ' || character === '\u2009') return 0.28;
  if (NARROW.has(character)) return 0.38;
  if (WIDE.has(character)) return 0.88;
  if (/[0-9]/.test(character)) return 0.56;
  if (/[A-Z]/.test(character)) return 0.68;
  return (character.codePointAt(0) ?? 0) > 0x2e7f ? 1.05 : 0.58;
}

/** An upper estimate of how wide a text is drawn, in the units of the font size. */
export function textWidth(text: string, fontSize: number, bold = false): number {
  let em = 0;
  for (const character of text) em += emOf(character);
  return em * fontSize * (bold ? 1.08 : 1);
}

/** The text in at most `lines` lines of at most `width`, parted between words; what does not fit ends in an ellipsis. */
export function wrapText(text: string, width: number, fontSize: number, lines: number): string[] {
  const wrapped: string[] = [];
  let rest = text.trim();
  while (rest !== '') {
    if (textWidth(rest, fontSize, true) <= width) return [...wrapped, rest];
    if (wrapped.length === lines - 1) return [...wrapped, cutText(rest, width, fontSize)];
    const words = rest.split(' ');
    let line = words[0];
    let used = 1;
    while (used < words.length && textWidth(`${line} ${words[used]}`, fontSize, true) <= width) {
      line += ` ${words[used]}`;
      used += 1;
    }
    wrapped.push(textWidth(line, fontSize, true) <= width ? line : cutText(line, width, fontSize));
    rest = words.slice(used).join(' ');
  }
  return wrapped;
}

function cutText(text: string, width: number, fontSize: number): string {
  if (textWidth(text, fontSize, true) <= width) return text;
  const characters = [...text];
  while (characters.length > 1 && textWidth(`${characters.join('')}…`, fontSize, true) > width)
    characters.pop();
  return `${characters.join('').trimEnd()}…`;
}
