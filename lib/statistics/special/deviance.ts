/** u - log(1 + u) for u > -1, without cancellation near 0; `ratio` is 1 + u, accurate also when it is small. */
export function deviancePart(u: number, ratio: number): number {
  const v = u / (2 + u);
  if (Math.abs(v) > 0.35) return u - Math.log(ratio);
  // log(1 + u) = 2 (v + v^3/3 + v^5/5 + ...), and u - 2 v = u v.
  const square = v * v;
  let power = v;
  let sum = 0;
  for (let k = 3; Math.abs(power) > 1e-18 * square; k += 2) {
    power *= square;
    sum += power / k;
  }
  return u * v - 2 * sum;
}

/** 2^27 + 1 parts a double into two halves whose products are exact (Veltkamp; Dekker, Numer Math 1971;18:224). */
const SPLITTER = 134217729;

/** (a + b) x - c, rounded once instead of at every step: the small difference of large numbers keeps its digits. */
export function sumTimesLess(a: number, b: number, x: number, c: number): number {
  const n = a + b;
  const larger = Math.max(a, b);
  const lost = Math.min(a, b) - (n - larger);
  const product = n * x;
  const nHigh = SPLITTER * n - (SPLITTER * n - n);
  const xHigh = SPLITTER * x - (SPLITTER * x - x);
  const nLow = n - nHigh;
  const xLow = x - xHigh;
  const missing = nLow * xLow - (product - nHigh * xHigh - nLow * xHigh - nHigh * xLow);
  return product - c + (missing + lost * x);
}
