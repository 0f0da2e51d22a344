/** The scale on which the limits of a survival curve are symmetric. */
export type SurvivalLimits = 'plain' | 'log' | 'log-log' | 'logit' | 'arcsin';

/** Limits of one survival value. */
type LimitsAt = (
  survival: number,
  relativeError: number,
  z: number,
) => readonly [lower: number, upper: number];

/**
 * Limits for 0 < S < 1, where `relativeError` is the standard error of log S (the root of Greenwood's sum) and z the
 * normal critical value. Kalbfleisch & Prentice (1980) for log and log-log; the others by the same delta method.
 */
const LIMITS: Readonly<Record<SurvivalLimits, LimitsAt>> = {
  plain: (s, se, z) => [Math.max(0, s - z * s * se), Math.min(1, s + z * s * se)],
  log: (s, se, z) => [s * Math.exp(-z * se), Math.min(1, s * Math.exp(z * se))],
  'log-log': (s, se, z) => {
    const logS = Math.log(s);
    // exp(-exp(log(-log S) + width)) is S to the power exp(width).
    const power = Math.exp(Math.abs((z * se) / logS));
    return [Math.exp(logS * power), Math.exp(logS / power)];
  },
  logit: (s, se, z) => {
    const odds = s / (1 - s);
    const width = (z * se) / (1 - s);
    const lower = odds * Math.exp(-width);
    // The upper limit through its complement, so that huge odds stay a number.
    return [lower / (1 + lower), 1 / (1 + Math.exp(-width) / odds)];
  },
  arcsin: (s, se, z) => {
    const angle = Math.asin(Math.sqrt(s));
    const width = ((z * se) / 2) * Math.sqrt(s / (1 - s));
    const lower = Math.sin(Math.max(0, angle - width));
    const upper = Math.sin(Math.min(Math.PI / 2, angle + width));
    return [lower * lower, upper * upper];
  },
};

export function survivalLimitsAt(limits: SurvivalLimits): LimitsAt {
  return LIMITS[limits];
}
