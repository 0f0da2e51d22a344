/** The logarithm of a tail probability and its slope at one place. */
export type LogTail = { readonly value: number; readonly slope: number };

const ROUNDING = 2 ** -51;

/**
 * The place at which the logarithm of a tail reaches `target`. Newton's method: the logarithm of either tail of a
 * log-concave density is concave, so that from the first step on every tangent ends between its foot and the root, from
 * wherever it starts. Ends when a step is lost in rounding.
 */
export function logConcaveRoot(start: number, target: number, logTail: (s: number) => LogTail): number {
  let s = start;
  let last = Number.POSITIVE_INFINITY;
  for (let count = 0; count < 500; count += 1) {
    const { value, slope } = logTail(s);
    const step = (target - value) / slope;
    const size = Math.abs(step);
    s += step;
    const scale = Math.max(1, Math.abs(s));
    // A small step that does not shrink any more is noise of the tail itself.
    if (size <= ROUNDING * scale || (size < 1e-10 * scale && size >= last)) break;
    last = size;
  }
  return s;
}
