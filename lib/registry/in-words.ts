/** 'a, b and c'. */
export function inWords(parts: readonly string[]): string {
  return parts.length < 2 ? parts.join('') : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`;
}

/** A label in the middle of a sentence: 'Left pair, superior' reads 'left pair, superior'. */
export function lowerFirst(text: string): string {
  return `${text.charAt(0).toLowerCase()}${text.slice(1)}`;
}
