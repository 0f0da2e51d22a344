import { expect, it } from 'vitest';
import { estimateKaplanMeier, survivalAt } from '@/lib/statistics';
import { expectMistake } from '../expect-mistake';

const curve = estimateKaplanMeier({ timeDays: [2, 4, 4, 6], event: [0, 1, 0, 1] });

it('includes the events at the time, and counts at risk who leaves then or later', () => {
  const points = survivalAt(curve, [0, 2, 3, 4, 5, 6, 7]);
  expect(points).toMatchObject([
    { timeDays: 0, survival: 1, atRisk: 4, beyondFollowUp: false },
    { timeDays: 2, survival: 1, atRisk: 4, beyondFollowUp: false },
    { timeDays: 3, survival: 1, atRisk: 3, beyondFollowUp: false },
    { timeDays: 4, survival: curve.survival[1], atRisk: 3, beyondFollowUp: false },
    { timeDays: 5, survival: curve.survival[1], atRisk: 1, beyondFollowUp: false },
    { timeDays: 6, survival: 0, atRisk: 1, beyondFollowUp: false },
    { timeDays: 7, survival: 0, atRisk: 0, beyondFollowUp: true },
  ]);
  expect(curve.survival[1]).toBeCloseTo(2 / 3, 15);
});

it('takes a time for a time of the curve up to 2^-26 away, on either side', () => {
  const one = estimateKaplanMeier({ timeDays: [1, 2], event: [1, 0] });
  const away = 2 ** -26;
  const times = [1 - 2 * away, 1 - away, 1, 1 + away, 1 + 2 * away];
  expect(survivalAt(one, times)).toMatchObject([
    { survival: 1, atRisk: 2 },
    { survival: 0.5, atRisk: 2 },
    { survival: 0.5, atRisk: 2 },
    { survival: 0.5, atRisk: 2 },
    { survival: 0.5, atRisk: 1 },
  ]);
});

it('gives an interval only between the first event and zero', () => {
  const [before, at, zero] = survivalAt(curve, [3, 5, 6]).map((point) =>
    point.kind === 'estimated' ? point.interval : point,
  );
  expect(before).toMatchObject({ kind: 'notEstimable', code: 'noEventYet' });
  expect(at).toEqual({
    kind: 'estimated',
    standardError: curve.standardError[1],
    lower: curve.lower[1],
    upper: curve.upper[1],
  });
  expect(zero).toMatchObject({ kind: 'notEstimable', code: 'curveAtZero' });
});

it('leaves out, between curve times, those who have not entered yet', () => {
  const delayed = estimateKaplanMeier({
    timeDays: [5, 7, 8, 9],
    event: [1, 1, 0, 1],
    entryDays: [0, 5, 2, 6],
  });
  expect(survivalAt(delayed, [0, 1, 3, 5, 5.5, 6, 6.5, 7])).toMatchObject(
    [0, 1, 2, 2, 2, 2, 3, 3].map((atRisk) => ({ atRisk })),
  );
});

it('carries the last value and says so', () => {
  const open = estimateKaplanMeier({ timeDays: [1, 2], event: [1, 0] });
  expect(survivalAt(open, [100])).toMatchObject([
    { survival: 0.5, atRisk: 0, beyondFollowUp: true, interval: { kind: 'estimated' } },
  ]);
});

it('treats a time blurred by arithmetic as the curve time', () => {
  const blurred = estimateKaplanMeier({ timeDays: [0.3, 1], event: [1, 1] });
  for (const time of [0.1 + 0.2, 0.3, 0.3 - 1e-10]) {
    expect(survivalAt(blurred, [time])).toMatchObject([{ survival: 0.5, atRisk: 2 }]);
  }
});

it('has nothing to read on a curve without cases', () => {
  const empty = estimateKaplanMeier({ timeDays: [], event: [] });
  expect(survivalAt(empty, [0, 5])).toMatchObject([
    { kind: 'notEstimable', code: 'noRows' },
    { kind: 'notEstimable', code: 'noRows' },
  ]);
});

it('refuses times that are none', () => {
  expectMistake(() => survivalAt(curve, [1, -1]), 'negative', 'times', 1);
  expectMistake(() => survivalAt(curve, [Number.NaN]), 'notFinite', 'times', 0);
});
