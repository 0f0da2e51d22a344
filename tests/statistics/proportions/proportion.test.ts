import { describe, expect, it } from 'vitest';
import { estimateProportion, estimateWilsonInterval, estimateZeroEventLimits } from '@/lib/statistics';
import { estimable } from '../estimable';
import { expectMistake } from '../expect-mistake';

const Z = 1.959963984540054;

describe('limits of one proportion', () => {
  it('Clopper-Pearson without events: 1 - 0.025^(1/n), and its mirror', () => {
    const none = estimable(estimateProportion(0, 20, { limits: 'clopperPearson' }));
    expect(none).toMatchObject({ proportion: 0, lower: 0 });
    expect(none.upper).toBeCloseTo(1 - 0.025 ** (1 / 20), 14);
    const all = estimable(estimateProportion(20, 20, { limits: 'clopperPearson' }));
    expect(all).toMatchObject({ proportion: 1, upper: 1 });
    expect(all.lower).toBeCloseTo(0.025 ** (1 / 20), 14);
  });

  it('Clopper-Pearson, 1 of 2: (1 - p)^2 = 0.975 below, p^2 = 0.975 above', () => {
    const found = estimable(estimateProportion(1, 2, { limits: 'clopperPearson' }));
    expect(found.lower).toBeCloseTo(1 - Math.sqrt(0.975), 14);
    expect(found.upper).toBeCloseTo(Math.sqrt(0.975), 14);
  });

  it('mid-P, none of 1: half of 1 - p is 0.025, so 0.95; 1 of 2: p^2 + p (1 - p) = p is 0.025', () => {
    const none = estimable(estimateProportion(0, 1, { limits: 'midP' }));
    expect(none).toMatchObject({ lower: 0 });
    expect(none.upper).toBeCloseTo(0.95, 14);
    const one = estimable(estimateProportion(1, 2, { limits: 'midP' }));
    expect(one.lower).toBeCloseTo(0.025, 14);
    expect(one.upper).toBeCloseTo(0.975, 14);
  });

  it('Jeffreys, 1 of 2 at 50 %: quartiles of beta(3/2, 3/2), a half circle cut at a quarter of its area', () => {
    const found = estimable(estimateProportion(1, 2, { limits: 'jeffreys', confidenceLevel: 0.5 }));
    // With p = (1 - cos t)/2 the lower area is (t - sin(t) cos(t))/pi.
    const angle = Math.acos(1 - 2 * found.lower);
    expect((angle - Math.sin(angle) * Math.cos(angle)) / Math.PI).toBeCloseTo(0.25, 13);
    expect(found.upper).toBeCloseTo(1 - found.lower, 13);
    expect(estimateProportion(0, 4, { limits: 'jeffreys' })).toMatchObject({ lower: 0 });
    expect(estimateProportion(4, 4, { limits: 'jeffreys' })).toMatchObject({ upper: 1 });
  });

  it('Agresti-Coull adds z^2/2 on both sides and may pass 0', () => {
    const found = estimable(estimateProportion(0, 20, { limits: 'agrestiCoull' }));
    const n = 20 + Z * Z;
    const p = (Z * Z) / 2 / n;
    expect(found.lower).toBeCloseTo(p - Z * Math.sqrt((p * (1 - p)) / n), 14);
    expect(found.lower).toBeLessThan(0);
    expect(found.upper).toBeCloseTo(p + Z * Math.sqrt((p * (1 - p)) / n), 14);
  });

  it('plain: 0.5 -+ z/20 for 50 of 100, and no width without events', () => {
    const found = estimable(estimateProportion(50, 100, { limits: 'wald' }));
    expect(found.lower).toBeCloseTo(0.5 - Z / 20, 14);
    expect(found.upper).toBeCloseTo(0.5 + Z / 20, 14);
    expect(estimateProportion(0, 9, { limits: 'wald' })).toMatchObject({ lower: 0, upper: 0 });
  });

  it('Wilson unless told otherwise, corrected for continuity on demand', () => {
    const plain = estimable(estimateWilsonInterval(15, 148));
    expect(estimateProportion(15, 148)).toMatchObject({
      limits: 'wilson',
      lower: plain.lower,
      upper: plain.upper,
    });
    const corrected = estimable(estimateWilsonInterval(15, 148, { continuityCorrection: true }));
    expect(estimateProportion(15, 148, { limits: 'wilsonCorrected' })).toMatchObject({
      lower: corrected.lower,
      upper: corrected.upper,
    });
    // The corrected limits solve |15/148 - p| - 1/(2n) = z root(p (1 - p)/n).
    for (const p of [corrected.lower, corrected.upper]) {
      const distance = Math.abs(15 / 148 - p) - 1 / 296;
      expect(distance / Math.sqrt((p * (1 - p)) / 148)).toBeCloseTo(Z, 11);
    }
    expect(estimateWilsonInterval(0, 20, { continuityCorrection: true })).toMatchObject({ lower: 0 });
    expect(estimateWilsonInterval(20, 20, { continuityCorrection: true })).toMatchObject({ upper: 1 });
  });
});

describe('nothing has happened', () => {
  it('among 250: 3/250, 1 - 0.05^(1/250), 1 - 0.025^(1/250), z^2/(250 + z^2)', () => {
    const found = estimable(estimateZeroEventLimits(250));
    expect(found.ruleOfThree).toBe(0.012);
    expect(found.exactOneSided).toBeCloseTo(1 - 0.05 ** (1 / 250), 14);
    expect(found.exactTwoSidedUpper).toBeCloseTo(1 - 0.025 ** (1 / 250), 14);
    expect(found.poissonOneSided).toBeCloseTo(-Math.log(0.05) / 250, 15);
    expect(found.wilsonUpper).toBeCloseTo((Z * Z) / (250 + Z * Z), 14);
    // The two statements kept apart: 1.51 % and 1.19 %.
    expect((100 * found.wilsonUpper).toFixed(2)).toBe('1.51');
    expect((100 * found.exactOneSided).toFixed(2)).toBe('1.19');
  });

  it('never passes 1 by the rule of three, and follows the level where it has one', () => {
    expect(estimable(estimateZeroEventLimits(2)).ruleOfThree).toBe(1);
    const found = estimable(estimateZeroEventLimits(10, { confidenceLevel: 0.9 }));
    expect(found.exactOneSided).toBeCloseTo(1 - 0.1 ** 0.1, 14);
    expect(found.ruleOfThree).toBe(0.3);
  });
});

it('needs cases, counts and a level', () => {
  expect(estimateProportion(0, 0)).toMatchObject({ kind: 'notEstimable', code: 'noRows' });
  expect(estimateZeroEventLimits(0)).toMatchObject({ kind: 'notEstimable', code: 'noRows' });
  expectMistake(() => estimateProportion(3, 2), 'outOfRange', 'events');
  expectMistake(() => estimateProportion(1, 2, { confidenceLevel: 0 }), 'outOfRange', 'confidenceLevel');
  expectMistake(() => estimateZeroEventLimits(1.5), 'notInteger', 'n');
  expectMistake(() => estimateZeroEventLimits(5, { confidenceLevel: 1 }), 'outOfRange', 'confidenceLevel');
});
