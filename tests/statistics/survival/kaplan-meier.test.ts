import { describe, expect, it } from 'vitest';
import { estimateKaplanMeier, estimateKaplanMeierByGroup } from '@/lib/statistics';
import { expectMistake } from '../expect-mistake';

const values = (column: ArrayLike<number>): number[] => Array.from(column);

describe('estimateKaplanMeier by hand', () => {
  // Six cases: events at 1, 3, 3, 6; censored at 3 and 5.
  const curve = estimateKaplanMeier({ timeDays: [3, 1, 5, 3, 6, 3], event: [1, 1, 0, 0, 1, 1] });

  it('multiplies (n - d)/n over the event times, events before censorings at one time', () => {
    expect(values(curve.timeDays)).toEqual([1, 3, 5, 6]);
    expect(values(curve.atRisk)).toEqual([6, 5, 2, 1]);
    expect(values(curve.events)).toEqual([1, 2, 0, 1]);
    expect(values(curve.censored)).toEqual([0, 1, 1, 0]);
    expect(curve.survival[0]).toBeCloseTo(5 / 6, 15);
    expect(curve.survival[1]).toBeCloseTo(1 / 2, 15);
    expect(curve.survival[2]).toBeCloseTo(1 / 2, 15);
    expect(curve.survival[3]).toBe(0);
    expect({ n: curve.n, events: curve.eventTotal }).toEqual({ n: 6, events: 4 });
  });

  it('sums d/(n(n - d)) for the standard error: 1/30 + 2/15 at the second time', () => {
    expect(curve.standardError[0]).toBeCloseTo((5 / 6) * Math.sqrt(1 / 30), 15);
    expect(curve.standardError[1]).toBeCloseTo(0.5 * Math.sqrt(1 / 30 + 2 / 15), 15);
  });

  it('ends the interval columns where the curve reaches zero', () => {
    expect(curve.intervalFrom).toBe(0);
    expect(curve.intervalTo).toBe(3);
    for (const column of [curve.standardError, curve.lower, curve.upper]) expect(column).toHaveLength(3);
  });

  it('places log-log limits at S to the power exp(-+ z se / log S)', () => {
    const z = 1.959963984540054;
    const power = Math.exp((z * Math.sqrt(1 / 6)) / Math.log(2));
    expect(curve.lower[1]).toBeCloseTo(0.5 ** power, 14);
    expect(curve.upper[1]).toBeCloseTo(0.5 ** (1 / power), 14);
  });

  it('takes the scale and the level asked for', () => {
    const z = 1.6448536269514722;
    const plain = estimateKaplanMeier(
      { timeDays: [1, 2, 2], event: [1, 0, 0] },
      { limits: 'plain', confidenceLevel: 0.9 },
    );
    expect(plain.lower[0]).toBeCloseTo(Math.max(0, 2 / 3 - z * (2 / 3) * Math.sqrt(1 / 6)), 14);
    expect(plain).toMatchObject({ limits: 'plain', confidenceLevel: 0.9, intervalFrom: 0, intervalTo: 2 });
  });

  it('cuts the angle of arcsin limits at a right angle, where the upper limit is 1', () => {
    const wide = estimateKaplanMeier(
      { timeDays: [1, ...Array.from({ length: 9 }, () => 2)], event: [1, 0, 0, 0, 0, 0, 0, 0, 0, 0] },
      { limits: 'arcsin', confidenceLevel: 0.99 },
    );
    // S = 9/10, Greenwood 1/90; half the width times root(S/(1 - S)) = 3, normal quantile at 0.995.
    const width = (2.5758293035489004 / 2) * Math.sqrt(1 / 90) * 3;
    expect(Math.asin(Math.sqrt(0.9)) + width).toBeGreaterThan(Math.PI / 2);
    expect(wide.upper[0]).toBe(1);
    expect(wide.lower[0]).toBeCloseTo(Math.sin(Math.asin(Math.sqrt(0.9)) - width) ** 2, 14);
  });
});

describe('delayed entry', () => {
  it('counts at risk who entered earlier and is still there', () => {
    // Entering on the event day is too late to be at risk for it.
    const curve = estimateKaplanMeier({
      timeDays: [5, 7, 8, 9],
      event: [1, 1, 0, 1],
      entryDays: [0, 5, 2, 6],
    });
    expect(values(curve.timeDays)).toEqual([5, 7, 8, 9]);
    expect(values(curve.atRisk)).toEqual([2, 3, 2, 1]);
    expect(curve.survival[1]).toBeCloseTo((1 / 2) * (2 / 3), 15);
    expect(values(curve.entryDays)).toEqual([0, 2, 5, 6]);
    expect(values(curve.entered)).toEqual([1, 1, 1, 1]);
  });

  it('stays at zero once a risk set of one has fallen', () => {
    const curve = estimateKaplanMeier({ timeDays: [1, 5, 6], event: [1, 1, 0], entryDays: [0, 2, 2] });
    expect(values(curve.survival)).toEqual([0, 0, 0]);
    expect(curve.intervalTo).toBe(0);
  });
});

describe('edges', () => {
  it('draws no interval before the first event', () => {
    const curve = estimateKaplanMeier({ timeDays: [1, 2, 3], event: [0, 0, 1] });
    expect(curve.intervalFrom).toBe(2);
    expect([values(curve.lower), values(curve.upper)]).toEqual([
      [1, 1],
      [1, 1],
    ]);
    expect(estimateKaplanMeier({ timeDays: [4, 4], event: [0, 0] }).intervalFrom).toBe(1);
  });

  it('gives no cases a curve without times', () => {
    expect(estimateKaplanMeier({ timeDays: [], event: [] })).toMatchObject({
      n: 0,
      eventTotal: 0,
      intervalTo: 0,
    });
  });

  it('merges times that differ by rounding, in a chain, into the earliest', () => {
    const blurred = estimateKaplanMeier({ timeDays: [0.1 + 0.2, 0.3, 0.3 + 2e-8, 1], event: [1, 1, 0, 1] });
    expect(values(blurred.timeDays)).toEqual([0.3, 0.3 + 2e-8, 1]);
    const chain = estimateKaplanMeier({ timeDays: [0.3, 0.3 + 1.4e-8, 0.3 + 2.8e-8], event: [1, 1, 0] });
    expect(values(chain.timeDays)).toEqual([0.3]);
    const relative = estimateKaplanMeier({
      timeDays: [4000.5, 4000.5 + 5e-5, 4000.5 + 2e-4],
      event: [1, 1, 0],
    });
    expect(values(relative.timeDays)).toEqual([4000.5, 4000.5 + 2e-4]);
  });

  it('takes days far beyond the counting grid and large groups of rows alike', () => {
    const far = estimateKaplanMeier({ timeDays: [1, 3_000_000_000], event: [1, 1] });
    expect(values(far.timeDays)).toEqual([1, 3_000_000_000]);
    const rows = 5000;
    const timeDays = Int32Array.from({ length: rows }, (_, i) => i * 3);
    const many = estimateKaplanMeier({ timeDays, event: new Uint8Array(rows).fill(1) });
    expect(many.timeDays).toHaveLength(rows);
    expect(many.survival[rows / 2 - 1]).toBeCloseTo(0.5, 12);
  });

  it('takes typed arrays and plain arrays for the same answer', () => {
    const typed = estimateKaplanMeier({ timeDays: Int32Array.of(1, 2, 2), event: Uint8Array.of(1, 0, 1) });
    expect(typed).toEqual(estimateKaplanMeier({ timeDays: [1, 2, 2], event: [1, 0, 1] }));
  });
});

describe('estimateKaplanMeierByGroup', () => {
  it('gives every code a curve, an empty one to a code without cases', () => {
    const curves = estimateKaplanMeierByGroup(
      { timeDays: [1, 2, 3, 4], event: [1, 0, 1, 1], group: [0, 0, 2, 2] },
      { groupCount: 4 },
    );
    expect(curves.map((curve) => curve.n)).toEqual([2, 0, 2, 0]);
    expect(curves[2]).toEqual(estimateKaplanMeier({ timeDays: [3, 4], event: [1, 1] }));
  });

  it('finds the number of groups when it is not given', () => {
    const data = { timeDays: [1, 2], event: [1, 1], group: [1, 0], entryDays: [0, 1] };
    expect(estimateKaplanMeierByGroup(data).map((curve) => values(curve.timeDays))).toEqual([[2], [1]]);
  });
});

describe('mistakes name the row', () => {
  const good = { timeDays: [1, 2.5, 3], event: [1, 0, 1] };

  it('unequal lengths', () => {
    expectMistake(() => estimateKaplanMeier({ ...good, event: [1, 0] }), 'unequalLengths', 'event');
    expectMistake(() => estimateKaplanMeier({ ...good, entryDays: [0] }), 'unequalLengths', 'entryDays');
  });

  it('missing, infinite and negative times', () => {
    expectMistake(
      () => estimateKaplanMeier({ ...good, timeDays: [1, Number.NaN, 3] }),
      'notFinite',
      'timeDays',
      1,
    );
    const hole: number[] = [];
    hole[1] = 1;
    hole[2] = 3;
    expectMistake(() => estimateKaplanMeier({ ...good, timeDays: hole }), 'notFinite', 'timeDays', 0);
    expectMistake(
      () => estimateKaplanMeier({ ...good, timeDays: [1, 2, Number.POSITIVE_INFINITY] }),
      'notFinite',
      'timeDays',
      2,
    );
    expectMistake(() => estimateKaplanMeier({ ...good, timeDays: [1, 2, -3] }), 'negative', 'timeDays', 2);
  });

  it('unknown codes', () => {
    expectMistake(() => estimateKaplanMeier({ ...good, event: [1, 0, 2] }), 'unknownCode', 'event', 2);
    expectMistake(() => estimateKaplanMeier({ ...good, event: [0.5, 0, 1] }), 'unknownCode', 'event', 0);
    expectMistake(() => estimateKaplanMeier({ ...good, event: [1, -1, 1] }), 'unknownCode', 'event', 1);
    expectMistake(
      () => estimateKaplanMeierByGroup({ ...good, group: [0, 1, 2] }, { groupCount: 2 }),
      'unknownCode',
      'group',
      2,
    );
    expectMistake(() => estimateKaplanMeierByGroup({ ...good, group: [0, 1, 5000] }), 'outOfRange', 'group');
    expectMistake(
      () => estimateKaplanMeierByGroup({ ...good, group: [0, 1, -1] }),
      'unknownCode',
      'group',
      2,
    );
  });

  it('entries that are not before the exit', () => {
    const late = { timeDays: [1, 2, 3], event: [1, 0, 1], entryDays: [0, 2, 0] };
    expectMistake(() => estimateKaplanMeier(late), 'entryNotBeforeExit', 'entryDays', 1);
    const blurred = { timeDays: [1, 0.1 + 0.2], event: [1, 0], entryDays: [0, 0.3] };
    expectMistake(() => estimateKaplanMeier(blurred), 'entryNotBeforeExit', 'entryDays', 1);
    expectMistake(() => estimateKaplanMeier({ ...good, entryDays: [0, -1, 0] }), 'negative', 'entryDays', 1);
  });

  it('levels outside 0 to 1', () => {
    expectMistake(() => estimateKaplanMeier(good, { confidenceLevel: 1 }), 'outOfRange', 'confidenceLevel');
  });
});
