import { describe, expect, it } from 'vitest';
import {
  estimateOddsRatio,
  estimateRiskDifference,
  estimateRiskRatio,
  estimateWilsonInterval,
  testFisherExact,
} from '@/lib/statistics';
import { estimable } from '../estimable';
import { expectMistake } from '../expect-mistake';

const Z = 1.959963984540054;
const first = { events: 15, n: 20 };
const second = { events: 5, n: 20 };
const arm = (events: number, n: number) => ({ events, n });

describe('the difference', () => {
  it('0.75 - 0.25 with plain limits: error root(2 x 0.1875/20)', () => {
    const found = estimable(estimateRiskDifference(first, second, { limits: 'wald' }));
    const error = Math.sqrt((2 * 0.1875) / 20);
    expect(found).toMatchObject({ firstProportion: 0.75, secondProportion: 0.25, difference: 0.5 });
    expect(found.standardError).toBeCloseTo(error, 15);
    expect(found.lower).toBeCloseTo(0.5 - Z * error, 14);
    expect(found.upper).toBeCloseTo(0.5 + Z * error, 14);
  });

  it('adds the squared distances to the Wilson limits, with and without correction', () => {
    for (const continuityCorrection of [false, true]) {
      const high = estimable(estimateWilsonInterval(15, 20, { continuityCorrection }));
      const low = estimable(estimateWilsonInterval(5, 20, { continuityCorrection }));
      const limits = continuityCorrection ? 'newcombeCorrected' : 'newcombe';
      const found = estimable(estimateRiskDifference(first, second, { limits }));
      expect(found.lower).toBeCloseTo(0.5 - Math.hypot(0.75 - high.lower, low.upper - 0.25), 14);
      expect(found.upper).toBeCloseTo(0.5 + Math.hypot(high.upper - 0.75, 0.25 - low.lower), 14);
    }
    expect(estimateRiskDifference(first, second)).toMatchObject({ limits: 'newcombe' });
  });

  it('adds an event and a non-event to each arm (Agresti and Caffo)', () => {
    const found = estimable(estimateRiskDifference(first, second, { limits: 'agrestiCaffo' }));
    const [p, q] = [16 / 22, 6 / 22];
    const error = Math.sqrt((p * (1 - p) + q * (1 - q)) / 22);
    expect(found.lower).toBeCloseTo(p - q - Z * error, 14);
  });

  it('solves the score equation: with one arm at 0 of many, the Wilson limit of the other', () => {
    // With all weight on the second arm's 0 the difference is p1 itself.
    const found = estimable(estimateRiskDifference(arm(3, 10), arm(0, 1_000_000), { limits: 'mee' }));
    const wilson = estimable(estimateWilsonInterval(3, 10));
    expect(found.lower).toBeCloseTo(wilson.lower, 5);
    expect(found.upper).toBeCloseTo(wilson.upper, 5);
  });

  it('inflates the score variance by N/(N - 1) (Miettinen and Nurminen): z root(40/39) gives the same limits', () => {
    const wide = estimable(estimateRiskDifference(first, second, { limits: 'miettinenNurminen' }));
    const narrow = estimable(estimateRiskDifference(first, second, { limits: 'mee' }));
    expect(wide.lower).toBeLessThan(narrow.lower);
    expect(wide.upper).toBeGreaterThan(narrow.upper);
    // At no difference the score test is Pearson's: chi-square 10 with z^2 = 10 puts the lower limit at 0.
    const level = 1 - 2 * 0.000782701129001274;
    const atTen = estimable(estimateRiskDifference(first, second, { limits: 'mee', confidenceLevel: level }));
    expect(atTen.lower).toBeCloseTo(0, 10);
  });

  it('has limits where arms are all or nothing, and no plain width there', () => {
    const found = estimable(estimateRiskDifference(arm(10, 10), arm(0, 20), { limits: 'mee' }));
    expect(found.upper).toBe(1);
    const plain = estimable(estimateRiskDifference(arm(10, 10), arm(0, 20), { limits: 'wald' }));
    expect(plain).toMatchObject({ lower: 1, upper: 1, standardError: 0 });
    const turned = estimable(
      estimateRiskDifference(arm(0, 20), arm(10, 10), { limits: 'miettinenNurminen' }),
    );
    expect(turned.lower).toBe(-1);
  });
});

describe('the ratio of risks', () => {
  it('3 with plain limits on the log: error root(5/20/15 + 15/20/5)', () => {
    const found = estimable(estimateRiskRatio(first, second, { limits: 'katz' }));
    const error = Math.sqrt(1 / 60 + 3 / 20);
    expect(found.ratio).toBeCloseTo(3, 14);
    expect(found.logStandardError).toBeCloseTo(error, 14);
    expect(found.lower).toBeCloseTo(3 / Math.exp(Z * error), 13);
    expect(found.upper).toBeCloseTo(3 * Math.exp(Z * error), 12);
  });

  it('is open on the side where an arm has no events', () => {
    expect(estimateRiskRatio(arm(3, 9), arm(0, 9))).toMatchObject({
      ratio: Number.POSITIVE_INFINITY,
      upper: Number.POSITIVE_INFINITY,
      limits: 'koopman',
    });
    const none = estimable(estimateRiskRatio(arm(0, 9), arm(3, 9)));
    const mirror = estimable(estimateRiskRatio(arm(3, 9), arm(0, 9)));
    expect(none).toMatchObject({ ratio: 0, lower: 0 });
    expect(none.upper * mirror.lower).toBeCloseTo(1, 12);
    const katz = estimateRiskRatio(arm(3, 9), arm(0, 9), { limits: 'katz' });
    expect(katz).toMatchObject({ kind: 'notEstimable', code: 'emptyCell' });
    expect(estimateRiskRatio(arm(0, 9), arm(0, 9))).toMatchObject({ code: 'noEvents' });
  });

  it('knows no more than Pearson at 1: chi-square 10 puts the limit there at z^2 = 10', () => {
    const level = 1 - 2 * 0.000782701129001274;
    const found = estimable(estimateRiskRatio(first, second, { confidenceLevel: level }));
    expect(found.lower).toBeCloseTo(1, 9);
    const wider = estimable(
      estimateRiskRatio(first, second, { limits: 'miettinenNurminen', confidenceLevel: level }),
    );
    expect(wider.lower).toBeLessThan(1);
    // Every case in both arms: 1, with limits that the counts allow.
    const all = estimable(estimateRiskRatio(arm(10, 10), arm(20, 20)));
    expect(all.ratio).toBe(1);
    // (1 - r)^2/(r (1 - r)/10) = z^2 at the lower limit.
    expect(all.lower).toBeCloseTo(10 / (10 + Z * Z), 12);
  });
});

describe('the odds ratio', () => {
  it('9 with plain limits: error root(1/15 + 1/5 + 1/5 + 1/15)', () => {
    const found = estimable(estimateOddsRatio(first, second, { limits: 'woolf' }));
    const error = Math.sqrt(8 / 15);
    expect(found.ratio).toBeCloseTo(9, 13);
    expect(found.logStandardError).toBeCloseTo(error, 14);
    expect(found.upper).toBeCloseTo(9 * Math.exp(Z * error), 11);
    const half = estimable(estimateOddsRatio(first, second, { limits: 'haldaneAnscombe' }));
    expect(half.ratio).toBeCloseTo((15.5 / 5.5) ** 2, 12);
  });

  it('of one case against one, given one event: P(first) = r/(1 + r), so limits 39 and none', () => {
    const found = estimable(estimateOddsRatio(arm(0, 1), arm(1, 1)));
    expect(found).toMatchObject({ ratio: 0, lower: 0, limits: 'conditional' });
    expect(found.upper).toBeCloseTo(39, 11);
    const other = estimable(estimateOddsRatio(arm(1, 1), arm(0, 1)));
    expect(other).toMatchObject({ ratio: Number.POSITIVE_INFINITY, upper: Number.POSITIVE_INFINITY });
    expect(other.lower).toBeCloseTo(1 / 39, 13);
  });

  it('has its conditional value where the expected count is the one seen: two against two, one event each', () => {
    // Weights 1, 4 r, r^2 for 0, 1, 2 events: mean 1 at r = 1.
    expect(estimable(estimateOddsRatio(arm(1, 2), arm(1, 2))).ratio).toBeCloseTo(1, 13);
    // Three events among two and two: the first arm has 1 or 2 with weights 2 and 2 r... mean 1 + r/(1 + r).
    const found = estimable(estimateOddsRatio(arm(1, 2), arm(2, 2)));
    expect(found).toMatchObject({ ratio: 0, lower: 0 });
    expect(found.upper).toBeCloseTo(39, 11);
  });

  it('is not estimable where totals or cells leave nothing', () => {
    expect(estimateOddsRatio(arm(0, 4), arm(0, 5))).toMatchObject({ code: 'oneTable' });
    expect(estimateOddsRatio(arm(4, 4), arm(2, 5), { limits: 'woolf' })).toMatchObject({ code: 'emptyCell' });
    expect(estimateOddsRatio(arm(4, 4), arm(2, 5), { limits: 'haldaneAnscombe' })).toMatchObject({
      kind: 'estimated',
    });
  });
});

describe("Fisher's test", () => {
  it('of the tea: 1 + 16 + 36 + 16 + 1 arrangements of 70', () => {
    const found = estimable(testFisherExact(arm(3, 4), arm(1, 4)));
    expect(found.pGreater).toBeCloseTo(17 / 70, 14);
    expect(found.pLess).toBeCloseTo(69 / 70, 14);
    expect(found.pValue).toBeCloseTo(34 / 70, 14);
    expect(estimable(testFisherExact(arm(4, 4), arm(0, 4))).pValue).toBeCloseTo(2 / 70, 15);
  });

  it('has nothing against a table that the totals force', () => {
    expect(testFisherExact(arm(0, 4), arm(0, 5))).toEqual({
      kind: 'tested',
      pValue: 1,
      pLess: 1,
      pGreater: 1,
    });
  });
});

it('needs cases in both arms', () => {
  const empty = arm(0, 0);
  for (const run of [estimateRiskDifference, estimateRiskRatio, estimateOddsRatio, testFisherExact]) {
    expect(run(empty, first)).toMatchObject({ kind: 'notEstimable', code: 'emptyArm' });
    expect(run(first, empty)).toMatchObject({ kind: 'notEstimable', code: 'emptyArm' });
    expectMistake(() => run(arm(3, 2), first), 'outOfRange', 'first.events');
    expectMistake(() => run(first, arm(-1, 2)), 'negative', 'second.events');
    expectMistake(() => run(first, arm(1, 2.5)), 'notInteger', 'second.n');
    expectMistake(() => run(arm(Number.NaN, 2), first), 'notFinite', 'first.events');
  }
  for (const run of [estimateRiskDifference, estimateRiskRatio, estimateOddsRatio]) {
    expectMistake(() => run(first, second, { confidenceLevel: 1.5 }), 'outOfRange', 'confidenceLevel');
  }
});
