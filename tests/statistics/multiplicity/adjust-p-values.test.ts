import { expect, it } from 'vitest';
import { adjustPValues } from '@/lib/statistics';
import { expectMistake } from '../expect-mistake';

const pValues = [0.01, 0.04, 0.02];
const rounded = (values: Float64Array): number[] => Array.from(values, (value) => Number(value.toFixed(12)));

it('multiplies by the number of tests (Bonferroni), never beyond 1', () => {
  expect(rounded(adjustPValues(pValues, 'bonferroni'))).toEqual([0.03, 0.12, 0.06]);
  expect(rounded(adjustPValues([0.5, 0.7], 'bonferroni'))).toEqual([1, 1]);
});

it('steps down (Holm): 3 x 0.01, 2 x 0.02, 1 x 0.04, never falling', () => {
  expect(rounded(adjustPValues(pValues, 'holm'))).toEqual([0.03, 0.04, 0.04]);
  // 2 x 0.03 = 0.06 for the second pulls the third, 0.05, up to it.
  expect(rounded(adjustPValues([0.01, 0.03, 0.05], 'holm'))).toEqual([0.03, 0.06, 0.06]);
});

it('steps up (Hochberg): from the largest, 0.05, then 2 x 0.03 cut down to it', () => {
  expect(rounded(adjustPValues([0.01, 0.03, 0.05], 'hochberg'))).toEqual([0.03, 0.05, 0.05]);
});

it('closes Simes (Hommel): between Hochberg and the raw values', () => {
  // For 0.03 the intersections are {0.03} 0.03, {0.01, 0.03} 0.02, {0.03, 0.05} min(0.06, 0.05), all three min(0.03, 0.045, 0.05).
  expect(rounded(adjustPValues([0.01, 0.03, 0.05], 'hommel'))).toEqual([0.03, 0.05, 0.05]);
  // For 0.01 all four give min(4 x 0.01, 4/2 x 0.015) = 0.03, and no intersection more: below Hochberg's 0.04.
  expect(rounded(adjustPValues([0.01, 0.015, 0.5, 0.6], 'hommel'))).toEqual([0.03, 0.045, 0.6, 0.6]);
  expect(rounded(adjustPValues([0.01, 0.015, 0.5, 0.6], 'hochberg'))).toEqual([0.04, 0.045, 0.6, 0.6]);
});

it('controls the share of false findings: 3/i times the i-th, from the largest down', () => {
  expect(rounded(adjustPValues(pValues, 'benjaminiHochberg'))).toEqual([0.03, 0.04, 0.03]);
  // Without assumptions also times 1 + 1/2 + 1/3 = 11/6.
  expect(rounded(adjustPValues(pValues, 'benjaminiYekutieli'))).toEqual([0.055, 0.073333333333, 0.055]);
});

it('answers nothing with nothing and one with itself', () => {
  expect(adjustPValues([], 'holm')).toHaveLength(0);
  expect(Array.from(adjustPValues([0.03], 'hommel'))).toEqual([0.03]);
});

it('refuses what is no p value, by row', () => {
  expectMistake(() => adjustPValues([0.1, 1.5], 'holm'), 'outOfRange', 'pValues', 1);
  expectMistake(() => adjustPValues([-0.1], 'holm'), 'outOfRange', 'pValues', 0);
  expectMistake(() => adjustPValues([0.1, Number.NaN], 'holm'), 'notFinite', 'pValues', 1);
});
