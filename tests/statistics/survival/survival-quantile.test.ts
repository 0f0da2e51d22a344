import { expect, it } from 'vitest';
import { estimateKaplanMeier, survivalQuantile } from '@/lib/statistics';
import { expectMistake } from '../expect-mistake';

it('is the first time at which the curve is at or below the level', () => {
  const curve = estimateKaplanMeier({ timeDays: [1, 2, 3], event: [1, 1, 1] });
  expect(survivalQuantile(curve, 0.5)).toMatchObject({ kind: 'reached', timeDays: 2 });
  expect(survivalQuantile(curve, 0.3)).toMatchObject({ kind: 'reached', timeDays: 1 });
});

it('is halfway to the next fall when the curve rests on the level', () => {
  const curve = estimateKaplanMeier({ timeDays: [1, 2, 4, 8], event: [1, 1, 1, 1] });
  expect(survivalQuantile(curve, 0.5)).toMatchObject({ kind: 'reached', timeDays: 3 });
  // 0.9 as 1 - 0.1 is not exact in binary; the level is met all the same.
  const tenths = estimateKaplanMeier({
    timeDays: Array.from({ length: 10 }, (_, i) => 10 * (i + 1)),
    event: new Array<number>(10).fill(1),
  });
  expect(survivalQuantile(tenths, 0.3)).toMatchObject({ kind: 'reached', timeDays: 35 });
});

it('is the time itself when the curve rests on the level to the end', () => {
  const curve = estimateKaplanMeier({ timeDays: [1, 2, 4, 8], event: [1, 1, 0, 0] });
  expect(survivalQuantile(curve, 0.5)).toMatchObject({ kind: 'reached', timeDays: 2 });
});

it('says what follow-up has not reached, for estimate and limits apart', () => {
  const curve = estimateKaplanMeier({ timeDays: [1, 2, 4, 8], event: [1, 0, 0, 0] });
  const median = survivalQuantile(curve, 0.5);
  expect(median).toMatchObject({ kind: 'notReached', upper: { kind: 'notReached' } });
  expect(median).toHaveProperty('reason', 'The curve stays above 50 % during follow-up.');
  // S = 3/4, se of log S = sqrt(1/12): the log-log lower limit is 0.13, below one half.
  expect(median).toMatchObject({ lower: { kind: 'reached', timeDays: 1 } });
});

it('reads the limits off the limit curves of Brookmeyer and Crowley', () => {
  const curve = estimateKaplanMeier({
    timeDays: Array.from({ length: 20 }, (_, i) => i + 1),
    event: new Array<number>(20).fill(1),
  });
  const median = survivalQuantile(curve, 0.5);
  const firstBelow = (limits: Float64Array): number =>
    curve.timeDays[limits.findIndex((limit) => limit <= 0.5)];
  expect(median).toMatchObject({
    kind: 'reached',
    timeDays: 10.5,
    lower: { timeDays: firstBelow(curve.lower) },
    upper: { timeDays: firstBelow(curve.upper) },
  });
  // Sign-test limits for 20 values bracket the median symmetrically within a rank or two.
  expect(firstBelow(curve.lower)).toBeGreaterThanOrEqual(5);
  expect(firstBelow(curve.upper)).toBeLessThanOrEqual(15);
});

it('has no quantile without cases, nor outside 0 to 1', () => {
  const empty = estimateKaplanMeier({ timeDays: [], event: [] });
  expect(survivalQuantile(empty, 0.5)).toMatchObject({ kind: 'notEstimable', code: 'noRows' });
  for (const p of [0, 1, -1, Number.NaN]) {
    expectMistake(() => survivalQuantile(empty, p), 'outOfRange', 'probability');
  }
});
