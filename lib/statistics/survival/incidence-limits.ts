/** The scale on which the limits of a cumulative incidence are symmetric. */
export type IncidenceLimits = 'plain' | 'log' | 'log-log';

/** Writes the limits of one incidence at place i of both columns. */
type WriteLimits = (
  incidence: number,
  standardError: number,
  z: number,
  lower: Float64Array,
  upper: Float64Array,
  i: number,
) => void;

/**
 * Limits for 0 < F < 1: symmetric in F, in log F, or in log(-log(1 - F)) (Kalbfleisch & Prentice 1980; Choudhury,
 * Stat Med 2002;21:1129), by the delta method, within [0, 1].
 */
const LIMITS: Readonly<Record<IncidenceLimits, WriteLimits>> = {
  plain: (f, se, z, lower, upper, i) => {
    lower[i] = Math.max(0, f - z * se);
    upper[i] = Math.min(1, f + z * se);
  },
  log: (f, se, z, lower, upper, i) => {
    lower[i] = f * Math.exp((-z * se) / f);
    upper[i] = Math.min(1, f * Math.exp((z * se) / f));
  },
  'log-log': (f, se, z, lower, upper, i) => {
    const logFree = Math.log1p(-f);
    const power = Math.exp((z * se) / ((f - 1) * logFree));
    lower[i] = -Math.expm1(logFree / power);
    upper[i] = -Math.expm1(logFree * power);
  },
};

/** How the limits on this scale are written. */
export function incidenceLimitsOnScale(limits: IncidenceLimits): WriteLimits {
  return LIMITS[limits];
}
