/**
 * Where a condition that holds at `low` stops holding on the way to `high`, to the last bits of a double: the condition
 * holds at `holding`, fails at `failing`, and no double (or only rounding) lies between. The ends are never tested, so a
 * function may be undefined there.
 */
export function bisect(
  low: number,
  high: number,
  holds: (x: number) => boolean,
): { readonly holding: number; readonly failing: number; readonly middle: number } {
  let holding = low;
  let failing = high;
  for (;;) {
    const middle = holding + (failing - holding) / 2;
    const close = Math.abs(failing - holding) <= 2 ** -52 * Math.max(Math.abs(holding), Math.abs(failing));
    if (close || middle === holding || middle === failing) return { holding, failing, middle };
    if (holds(middle)) holding = middle;
    else failing = middle;
  }
}
