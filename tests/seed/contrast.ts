/** One subject of a contrast: group 0 or 1, days at risk from `entry` to `time`, and whether the event came. */
export interface Subject {
  readonly group: 0 | 1;
  readonly entry: number;
  readonly time: number;
  readonly isEvent: boolean;
  readonly stratum: number;
}

export interface LogHazardRatio {
  readonly estimate: number;
  readonly standardError: number;
}

/**
 * Log hazard ratio of group 1 against group 0 by the one-step estimate (observed - expected) / variance, summed over
 * strata (Yusuf, Peto and others, Prog Cardiovasc Dis 1985, appendix). Written plainly for the tests; good for moderate effects.
 */
export function oneStepLogHazardRatio(subjects: readonly Subject[]): LogHazardRatio {
  let [difference, variance] = [0, 0];
  for (const stratum of new Set(subjects.map((subject) => subject.stratum))) {
    const members = subjects.filter((subject) => subject.stratum === stratum);
    const times = new Set(members.filter(({ isEvent }) => isEvent).map(({ time }) => time));
    for (const time of times) {
      const atRisk = members.filter((subject) => subject.entry < time && subject.time >= time);
      const events = atRisk.filter((subject) => subject.isEvent && subject.time === time);
      const [n, n1, d] = [atRisk.length, atRisk.filter(({ group }) => group === 1).length, events.length];
      const observed = events.filter(({ group }) => group === 1).length;
      difference += observed - (d * n1) / n;
      if (n > 1) variance += (d * n1 * (n - n1) * (n - d)) / (n * n * (n - 1));
    }
  }
  return { estimate: difference / variance, standardError: 1 / Math.sqrt(variance) };
}
