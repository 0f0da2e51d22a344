/** The tolerance at which R's uniroot stops unless told otherwise: a quarter of the digits of a double. */
const LOOSE = 2 ** -13;

/**
 * The place at which R's uniroot stops: Brent's method (Algorithms for Minimization without Derivatives, 1973, chapter 4)
 * with a loose tolerance. R's fisher.test prints such places as they are, right in four digits, and cases made with it
 * hold them in seventeen.
 */
function looseRoot(f: (x: number) => number, lower: number, upper: number): number {
  let [a, b] = [lower, upper];
  let [fa, fb] = [f(a), f(b)];
  let [c, fc] = [a, fa];
  if (fa === 0) return a;
  if (fb === 0) return b;
  for (let count = 0; count < 1000; count += 1) {
    const before = b - a;
    if (Math.abs(fc) < Math.abs(fb)) {
      [a, b, c] = [b, c, b];
      [fa, fb, fc] = [fb, fc, fb];
    }
    const near = 2 * Number.EPSILON * Math.abs(b) + LOOSE / 2;
    let step = (c - b) / 2;
    if (Math.abs(step) <= near || fb === 0) return b;
    if (Math.abs(before) >= near && Math.abs(fa) > Math.abs(fb)) {
      const { p, q } = interpolated(a, b, c, fa, fb, fc);
      if (p < 0.75 * (c - b) * q - Math.abs(near * q) / 2 && p < Math.abs((before * q) / 2)) step = p / q;
    }
    if (Math.abs(step) < near) step = step > 0 ? near : -near;
    [a, fa] = [b, fb];
    b += step;
    fb = f(b);
    if ((fb > 0 && fc > 0) || (fb < 0 && fc < 0)) [c, fc] = [a, fa];
  }
  throw new Error('The search for a root did not end.');
}

/** The step p/q to the root of the line or of the inverse parabola through the points, p not below 0. */
function interpolated(
  a: number,
  b: number,
  c: number,
  fa: number,
  fb: number,
  fc: number,
): { readonly p: number; readonly q: number } {
  const last = fb / fa;
  let p = (c - b) * last;
  let q = 1 - last;
  if (a !== c) {
    const [first, second] = [fa / fc, fb / fc];
    p = last * ((c - b) * first * (first - second) - (b - a) * (second - 1));
    q = (first - 1) * (second - 1) * (last - 1);
  }
  return p > 0 ? { p, q: -q } : { p: -p, q };
}

/**
 * What fisher.test prints for an odds ratio whose exact value is known: the place where its search stops, between 0 and 1
 * for the ratio or else for its inverse. `excess` falls or rises through 0 at the exact value. Should the search end
 * further from the exact value than its tolerance, the exact value is returned: the case then fails, as it must.
 */
export function asFisherTestStops(exact: number, excess: (oddsRatio: number) => number): number {
  if (exact === 0 || exact === Number.POSITIVE_INFINITY || exact === 1) return exact;
  const inverse = exact > 1;
  const stop = inverse ? looseRoot((t) => excess(1 / t), Number.EPSILON, 1) : looseRoot(excess, 0, 1);
  if (Math.abs(stop - (inverse ? 1 / exact : exact)) > LOOSE) return exact;
  return inverse ? 1 / stop : stop;
}
