import { describe, expect, it } from 'vitest';
import {
  estimateProportionsPower,
  estimateProportionsSampleSize,
  type ProportionsFormula,
} from '@/lib/statistics';
import { expectMistake } from '../expect-mistake';

const LEVEL = 1.959963984540054;
const REACH = 0.8416212335729143;

function perArm(first: number, second: number, formula: ProportionsFormula, power = 0.8): number {
  const found = estimateProportionsSampleSize({ first, second, power }, { formula });
  if (found.kind !== 'estimated') throw new Error(found.reason);
  expect(found.wholePerArm).toBe(Math.ceil(found.perArm));
  return found.perArm;
}

describe('cases per arm, 0.5 against 0.25 by hand', () => {
  const spread = 0.25 + 0.1875;

  it('pooled under the hypothesis', () => {
    const pooled = (LEVEL * Math.sqrt(2 * 0.375 * 0.625) + REACH * Math.sqrt(spread)) ** 2 * 16;
    expect(perArm(0.5, 0.25, 'pooled')).toBeCloseTo(pooled, 9);
    expect(perArm(0.25, 0.5, 'pooled')).toBeCloseTo(pooled, 9);
    const corrected = (pooled / 4) * (1 + Math.sqrt(1 + 16 / pooled)) ** 2;
    expect(perArm(0.5, 0.25, 'pooledCorrected')).toBeCloseTo(corrected, 9);
  });

  it('not pooled', () => {
    expect(perArm(0.5, 0.25, 'unpooled')).toBeCloseTo((LEVEL + REACH) ** 2 * spread * 16, 9);
  });

  it('on the angle: 2 asin root 0.5 - 2 asin root 0.25 = pi/2 - pi/3', () => {
    const near = 2 * ((LEVEL + REACH) / (Math.PI / 6)) ** 2;
    expect(perArm(0.5, 0.25, 'arcsine')).toBeCloseTo(near, 9);
    const both = perArm(0.5, 0.25, 'arcsineBothTails');
    expect(both).toBeLessThan(near);
    expect(both).toBeGreaterThan(near - 0.01);
  });
});

describe('power', () => {
  it('is what was asked for at the cases asked for', () => {
    const design = { first: 0.1, second: 0.02 };
    for (const formula of ['pooled', 'arcsine', 'arcsineBothTails'] as const) {
      const size = perArm(0.1, 0.02, formula, 0.9);
      expect(estimateProportionsPower({ ...design, perArm: size }, { formula })).toBeCloseTo(0.9, 11);
    }
  });

  it('without a difference is the level in both tails, half of it in one', () => {
    const design = { first: 0.3, second: 0.3, perArm: 50 };
    expect(estimateProportionsPower(design, { formula: 'arcsine' })).toBeCloseTo(0.025, 14);
    expect(estimateProportionsPower(design, { formula: 'arcsineBothTails' })).toBeCloseTo(0.05, 14);
  });

  it('is all or nothing when both outcomes are certain', () => {
    expect(estimateProportionsPower({ first: 0, second: 1, perArm: 1 })).toBe(0);
    expect(estimateProportionsPower({ first: 0, second: 1, perArm: 2 })).toBe(1);
    expect(estimateProportionsPower({ first: 1, second: 1, perArm: 9 })).toBe(0);
  });
});

it('says what no number of cases can do', () => {
  const same = { first: 0.2, second: 0.2, power: 0.8 };
  expect(estimateProportionsSampleSize(same)).toMatchObject({ kind: 'notEstimable', code: 'noEffect' });
  const little = { first: 0.2, second: 0.3, power: 0.05 };
  expect(estimateProportionsSampleSize(little, { formula: 'arcsineBothTails' })).toMatchObject({
    code: 'powerWithoutCases',
  });
  expect(estimateProportionsSampleSize(little, { formula: 'arcsine' }).kind).toBe('estimated');
});

it('names mistakes', () => {
  const design = { first: 0.2, second: 0.3, power: 0.8 };
  for (const name of ['first', 'second', 'power', 'significanceLevel']) {
    expectMistake(() => estimateProportionsSampleSize({ ...design, [name]: 1.2 }), 'outOfRange', name);
  }
  const power = { first: 0.2, second: 0.3, perArm: 10 };
  for (const name of ['first', 'second', 'perArm', 'significanceLevel']) {
    expectMistake(() => estimateProportionsPower({ ...power, [name]: -0.1 }), 'outOfRange', name);
  }
});
