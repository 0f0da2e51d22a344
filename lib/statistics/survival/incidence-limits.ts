/** The scale on which the limits of a cumulative incidence are symmetric. */
export type IncidenceLimits = 'plain' | 'log' | 'log-log';

type LimitsAt = (
  incidence: number,
  standardError: number,
  z: number,
) => readonly [lower: number, upper: number];

/**
 * Limits for 0 < F < 1: symmetric in F, in log F, or in log(-log(1 - F)) (Kalbfleisch & Prentice 1980; Choudhury,
 * Stat Med 2002;21:1129), by the delta method, within [0, 1].
 */
const LIMITS: Readonly<Record<IncidenceLimits, LimitsAt>> = {
  plain: (f, se, z) => [Math.max(0, f - z * se), Math.min(1, f + z * se)],
  log: (f, se, z) => [f * Math.exp((-z * se) / f), Math.min(1, f * Math.exp((z * se) / f))],
  'log-log': (f, se, z) => {
    const logFree = -Math.log1p(-f);
    const width = (z * se) / ((1 - f) * logFree);
    return [-Math.expm1(-logFree * Math.exp(-width)), -Math.expm1(-logFree * Math.exp(width))];
  },
};

export function incidenceLimitsAt(limits: IncidenceLimits): LimitsAt {
  return LIMITS[limits];
}
