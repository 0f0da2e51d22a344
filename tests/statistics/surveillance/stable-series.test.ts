import { describe, expect, it } from 'vitest';
import { deriveCusumThreshold, deriveRiskAdjustedCusum, testAlarmCount } from '@/lib/statistics';
import { estimable } from '../estimable';
import { seededRandom } from '../seeded-random';

const CASES = 30_000;
const RUN_LENGTH = 1500;
const MIXES = [
  { risks: [0.05], oddsRatio: 2 },
  { risks: [0.01, 0.02, 0.04, 0.08, 0.2], oddsRatio: 2 },
  { risks: [0.1, 0.2, 0.3], oddsRatio: 0.5 },
];

/** A series of cases drawn from the mix whose events have the true odds ratio, and the alarms it gives. */
function alarmsOf(
  mix: (typeof MIXES)[number],
  threshold: number,
  trueOddsRatio: number,
  series: number,
): number {
  const random = seededRandom(13 + 7919 * series);
  const { risks, oddsRatio } = mix;
  const probability = Array.from({ length: CASES }, () => risks[Math.floor(random() * risks.length)]);
  const event = probability.map((p) =>
    random() < (trueOddsRatio * p) / (1 - p + trueOddsRatio * p) ? 1 : 0,
  );
  return deriveRiskAdjustedCusum({ event, probability }, { oddsRatio, threshold }).signals.length;
}

describe.each(MIXES)('a chart of risks $risks for an odds ratio of $oddsRatio', (mix) => {
  const { threshold } = estimable(
    deriveCusumThreshold({ probability: mix.risks }, { oddsRatio: mix.oddsRatio }, RUN_LENGTH, {
      cells: 150,
    }),
  );

  it('is quiet over stable series: at most 2 of 40 leave the 99 % Poisson interval, and all together do not', () => {
    const counts = Array.from({ length: 40 }, (_, series) => alarmsOf(mix, threshold, 1, series));
    const outside = counts.filter((alarms) => !asExpected(alarms, CASES));
    // More than 2 of 40 have a chance below 1 % where each has 1 %.
    expect(outside.length).toBeLessThanOrEqual(2);
    const all = counts.reduce((sum, alarms) => sum + alarms, 0);
    expect(asExpected(all, 40 * CASES)).toBe(true);
  });

  it('is not after the change that it was built for', () => {
    const alarms = alarmsOf(mix, threshold, mix.oddsRatio, 41);
    const test = estimable(testAlarmCount(alarms, CASES, RUN_LENGTH));
    expect(test.asExpected).toBe(false);
    expect(alarms).toBeGreaterThan(test.upper);
  });
});

function asExpected(alarms: number, cases: number): boolean {
  return estimable(testAlarmCount(alarms, cases, RUN_LENGTH)).asExpected;
}
