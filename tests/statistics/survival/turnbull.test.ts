import { describe, expect, it } from 'vitest';
import { estimateTurnbull, type IntervalData, survivalBoundsAt, type TurnbullCurve } from '@/lib/statistics';
import { estimable } from '../estimable';
import { expectMistake } from '../expect-mistake';

const NEVER = Number.POSITIVE_INFINITY;
const fitted = (data: IntervalData): TurnbullCurve => estimable(estimateTurnbull(data));

describe('by hand', () => {
  // Two cases in (0, 4], one in (2, 6], one free of the event until 5: mass in (2, 4] and (5, 6].
  const data = { leftDays: [0, 0, 2, 5], rightDays: [4, 4, 6, NEVER] };

  it('puts mass on maximal intersections only: p in (2, 4], the rest in (5, 6], with 2 log p + log(1 - p) largest', () => {
    const curve = fitted(data);
    expect([curve.n, ...curve.leftDays, ...curve.rightDays]).toEqual([4, 2, 5, 4, 6]);
    expect(curve.mass[0]).toBeCloseTo(2 / 3, 12);
    expect(curve.mass[1]).toBeCloseTo(1 / 3, 12);
    expect(curve.logLikelihood).toBeCloseTo(2 * Math.log(2 / 3) + Math.log(1 / 3), 12);
    expect(curve.largestGradient).toBeCloseTo(1, 10);
  });

  it('is read where it is determined and bounded where it is not', () => {
    const points = survivalBoundsAt(fitted(data), [0, 2, 3, 4, 5, 5.5, 6, 9]);
    const rounded = points.map(({ lower, upper, kind }) => [lower, upper, kind]);
    const third = expect.closeTo(1 / 3, 12);
    expect(rounded).toEqual([
      [1, 1, 'determined'],
      [1, 1, 'determined'],
      [third, 1, 'undetermined'],
      [third, third, 'determined'],
      [third, third, 'determined'],
      [0, third, 'undetermined'],
      [0, 0, 'determined'],
      [0, 0, 'determined'],
    ]);
    expect(points[2].timeDays).toBe(3);
  });

  it('leaves the end open where the last case had no event', () => {
    const curve = fitted({ leftDays: [2, 3], rightDays: [2, NEVER] });
    expect([...curve.leftDays, ...curve.rightDays]).toEqual([2, 3, 2, NEVER]);
    expect(survivalBoundsAt(curve, [3, 10])).toEqual([
      { kind: 'determined', timeDays: 3, lower: 0.5, upper: 0.5 },
      { kind: 'undetermined', timeDays: 10, lower: 0, upper: 0.5 },
    ]);
  });

  it('counts an exact day inside an interval as its only place for mass', () => {
    const curve = fitted({ leftDays: [1, 3, 0], rightDays: [5, 3, 3] });
    expect([...curve.leftDays, ...curve.rightDays, ...curve.mass]).toEqual([3, 3, 1]);
    expect(curve.logLikelihood).toBe(0);
  });

  it('takes no exact day for part of an interval that begins on it', () => {
    // (3, 5] does not hold day 3.
    const curve = fitted({ leftDays: [3, 3], rightDays: [3, 5] });
    expect([...curve.leftDays, ...curve.rightDays]).toEqual([3, 3, 3, 5]);
    expect(Array.from(curve.mass, (mass) => Math.round(mass * 1e12) / 1e12)).toEqual([0.5, 0.5]);
  });

  it('takes ends that differ by rounding only for one day', () => {
    const curve = fitted({ leftDays: [0.3, 1], rightDays: [0.1 + 0.2, 1] });
    expect(curve.leftDays).toEqual(curve.rightDays);
    expect(survivalBoundsAt(curve, [0.3 - 1e-10, 1 + 1e-10])).toMatchObject([
      { kind: 'determined', upper: 0.5 },
      { kind: 'determined', upper: 0 },
    ]);
  });

  it('with cases that never had an event stays at one', () => {
    const curve = fitted({ leftDays: [4, 7, 0], rightDays: [NEVER, NEVER, NEVER] });
    expect([...curve.leftDays, ...curve.rightDays, ...curve.mass]).toEqual([7, NEVER, 1]);
    expect(survivalBoundsAt(curve, [7])).toMatchObject([{ kind: 'determined', lower: 1, upper: 1 }]);
  });
});

it('drops cells that have no mass at the maximum', () => {
  // Cells (1, 2], (3, 4], (5, 6]; moving the mass of the middle one outwards covers one case more each way.
  const curve = fitted({ leftDays: [0, 0, 1, 3, 5, 5], rightDays: [2, 2, 6, 4, 6, 6] });
  const wide = fitted({ leftDays: [1, 1, 3, 0, 0], rightDays: [2, 4, 6, 2, 2] });
  expect(Array.from(curve.mass).every((mass) => mass > 0.1)).toBe(true);
  expect(Array.from(wide.leftDays)).toEqual([1, 3]);
});

it('reaches the maximum for ten thousand cases looked at on scattered days', () => {
  // A fixed scatter: fractional parts of multiples of irrational numbers, one for the events and one for the looks.
  const share = (k: number, step: number): number => (k * step) % 1;
  const rows = Array.from({ length: 10_000 }, (_, i) => {
    const event = -400 * Math.log(1 - share(i + 1, 0.6180339887498949));
    const looks = [90, 180, 365, 730, 1095].map((day, v) =>
      Math.round(day + 60 * (share(5 * i + v, Math.SQRT2) - 0.5)),
    );
    const after = looks.findIndex((day) => day >= event);
    return {
      left: after === 0 ? 0 : (looks.at(after < 0 ? -1 : after - 1) ?? 0),
      right: after < 0 ? NEVER : looks[after],
    };
  });
  const curve = fitted({ leftDays: rows.map(({ left }) => left), rightDays: rows.map(({ right }) => right) });
  expect(curve.largestGradient).toBeLessThanOrEqual(1 + 1e-10);
  const [{ lower, upper }] = survivalBoundsAt(curve, [365]);
  const truth = Math.exp(-365 / 400);
  expect(lower - 0.02).toBeLessThan(truth);
  expect(upper + 0.02).toBeGreaterThan(truth);
  expect(upper - lower).toBeLessThan(0.1);
});

it('has nothing to estimate without cases', () => {
  expect(estimateTurnbull({ leftDays: [], rightDays: [] })).toMatchObject({ code: 'noRows' });
});

describe('mistakes', () => {
  const good = { leftDays: [0, 2, 3], rightDays: [1, 2, NEVER] };

  it('in the columns are named with their row', () => {
    expectMistake(() => estimateTurnbull({ ...good, rightDays: [1, 2] }), 'unequalLengths', 'rightDays');
    expectMistake(() => estimateTurnbull({ ...good, leftDays: [0, -1, 3] }), 'negative', 'leftDays', 1);
    expectMistake(() => estimateTurnbull({ ...good, leftDays: [0, 2, NEVER] }), 'notFinite', 'leftDays', 2);
    expectMistake(
      () => estimateTurnbull({ ...good, rightDays: [1, Number.NaN, 4] }),
      'notFinite',
      'rightDays',
      1,
    );
    expectMistake(() => estimateTurnbull({ ...good, rightDays: [1, 2, 2.5] }), 'outOfRange', 'rightDays', 2);
  });

  it('in the times asked for are named too', () => {
    expectMistake(() => survivalBoundsAt(fitted(good), [1, -2]), 'negative', 'times', 1);
  });
});

it('calls a point determined when the mass inside is too small to part the bounds', () => {
  const curve = estimable(
    estimateTurnbull({ leftDays: [0, 1, 2, 4, 0, 0, 4], rightDays: [1, 3, 3, 4, 2, 0, 4] }),
  );
  const times = Array.from({ length: 12 }, (_, i) => i / 2);
  for (const { kind, lower, upper } of survivalBoundsAt(curve, times)) {
    expect(kind).toBe(lower < upper ? 'undetermined' : 'determined');
  }
});
