/** The scale on which the limits of a survival curve are symmetric. */
export type SurvivalLimits = 'plain' | 'log' | 'log-log' | 'logit' | 'arcsin';

/**
 * Writes the limits of one survival value at place i of both columns: into columns, because a pair of numbers per value
 * costs as much as its logarithms.
 */
type WriteLimits = (
  survival: number,
  relativeError: number,
  z: number,
  lower: Float64Array,
  upper: Float64Array,
  i: number,
) => void;

/**
 * Limits for 0 < S < 1, where `relativeError` is the standard error of log S (the root of Greenwood's sum) and z the
 * normal critical value. Kalbfleisch & Prentice (1980) for log and log-log; the others by the same delta method.
 */
const LIMITS: Readonly<Record<SurvivalLimits, WriteLimits>> = {
  plain: (s, se, z, lower, upper, i) => {
    lower[i] = Math.max(0, s - z * s * se);
    upper[i] = Math.min(1, s + z * s * se);
  },
  log: (s, se, z, lower, upper, i) => {
    lower[i] = s * Math.exp(-z * se);
    upper[i] = Math.min(1, s * Math.exp(z * se));
  },
  'log-log': (s, se, z, lower, upper, i) => {
    const logS = Math.log(s);
    // exp(-exp(log(-log S) + width)) is S to the power exp(width).
    const power = Math.exp(Math.abs((z * se) / logS));
    lower[i] = Math.exp(logS * power);
    upper[i] = Math.exp(logS / power);
  },
  logit: (s, se, z, lower, upper, i) => {
    const odds = s / (1 - s);
    const width = (z * se) / (1 - s);
    const low = odds * Math.exp(-width);
    lower[i] = low / (1 + low);
    // Through its complement, so that huge odds stay a number.
    upper[i] = 1 / (1 + Math.exp(-width) / odds);
  },
  arcsin: (s, se, z, lower, upper, i) => {
    const angle = Math.asin(Math.sqrt(s));
    const width = ((z * se) / 2) * Math.sqrt(s / (1 - s));
    lower[i] = Math.sin(Math.max(0, angle - width)) ** 2;
    upper[i] = Math.sin(Math.min(Math.PI / 2, angle + width)) ** 2;
  },
};

/** How the limits on this scale are written. */
export function limitsOnScale(limits: SurvivalLimits): WriteLimits {
  return LIMITS[limits];
}
