import { describe, expect, it } from 'vitest';
import {
  binomialLowerTail,
  binomialProbability,
  binomialQuantile,
  binomialUpperQuantile,
  binomialUpperTail,
  hypergeometricLowerTail,
  hypergeometricProbability,
  hypergeometricQuantile,
  hypergeometricUpperQuantile,
  hypergeometricUpperTail,
  poissonLowerTail,
  poissonProbability,
  poissonQuantile,
  poissonUpperQuantile,
  poissonUpperTail,
} from '@/lib/statistics';
import { expectMistake } from '../expect-mistake';

const INFINITY = Number.POSITIVE_INFINITY;

describe('binomial distribution', () => {
  it('of four tosses: 1, 4, 6, 4, 1 sixteenths', () => {
    const counts = [0, 1, 2, 3, 4];
    for (const [x, ways] of [1, 4, 6, 4, 1].entries()) {
      expect(binomialProbability(x, 4, 0.5)).toBeCloseTo(ways / 16, 15);
    }
    for (const [x, ways] of [1, 5, 11, 15, 16].entries()) {
      expect(binomialLowerTail(x, 4, 0.5)).toBeCloseTo(ways / 16, 15);
      expect(binomialUpperTail(x, 4, 0.5)).toBeCloseTo(1 - ways / 16, 15);
    }
    expect(counts.map((x) => binomialProbability(x, 4, 0))).toEqual([1, 0, 0, 0, 0]);
    expect(counts.map((x) => binomialProbability(x, 4, 1))).toEqual([0, 0, 0, 0, 1]);
    expect(counts.map((x) => binomialLowerTail(x, 4, 0))).toEqual([1, 1, 1, 1, 1]);
    expect(counts.map((x) => binomialLowerTail(x, 4, 1))).toEqual([0, 0, 0, 0, 1]);
    expect(counts.map((x) => binomialUpperTail(x, 4, 1))).toEqual([1, 1, 1, 1, 0]);
  });

  it('a quantile is the smallest count whose tail has reached p: it includes equality', () => {
    expect(binomialQuantile(5 / 16, 4, 0.5)).toBe(1);
    expect(binomialQuantile(5 / 16 + 1e-12, 4, 0.5)).toBe(2);
    expect(binomialQuantile(1e-300, 4, 0.5)).toBe(0);
    expect(binomialQuantile(1 - 1e-9, 4, 0.5)).toBe(4);
    expect(binomialUpperQuantile(5 / 16, 4, 0.5)).toBe(2);
    expect(binomialUpperQuantile(5 / 16 - 1e-12, 4, 0.5)).toBe(3);
    expect(binomialUpperQuantile(1e-300, 4, 0.5)).toBe(4);
    expect(binomialUpperQuantile(1 - 1e-9, 4, 0.5)).toBe(0);
    expect([binomialQuantile(0.3, 7, 0), binomialQuantile(0.3, 7, 1)]).toEqual([0, 7]);
  });

  it('of no trial has no success', () => {
    expect([
      binomialProbability(0, 0, 0.3),
      binomialLowerTail(0, 0, 0.3),
      binomialUpperTail(0, 0, 0.3),
    ]).toEqual([1, 1, 0]);
    expect(binomialQuantile(0.5, 0, 0.3)).toBe(0);
  });

  it('at a chance next to 1 counts the failures', () => {
    expect(binomialProbability(0, 3, 1 - 2 ** -30) / 2 ** -90).toBeCloseTo(1, 13);
    expect(binomialProbability(2, 3, 1 - 2 ** -30) / (3 * 2 ** -30 * (1 - 2 ** -30) ** 2)).toBeCloseTo(1, 13);
    expect(binomialProbability(3, 3, 2 ** -30) / 2 ** -90).toBeCloseTo(1, 13);
  });

  it('refuses what cannot be counted', () => {
    for (const ask of [binomialProbability, binomialLowerTail, binomialUpperTail]) {
      expectMistake(() => ask(1.5, 4, 0.5), 'notInteger', 'x');
      expectMistake(() => ask(-1, 4, 0.5), 'negative', 'x');
      expectMistake(() => ask(INFINITY, 4, 0.5), 'notFinite', 'x');
      expectMistake(() => ask(5, 4, 0.5), 'outOfRange', 'x');
      expectMistake(() => ask(0, 4.5, 0.5), 'notInteger', 'n');
      expectMistake(() => ask(0, 2 ** 53, 0.5), 'outOfRange', 'n');
      for (const chance of [-0.1, 1.1, Number.NaN])
        expectMistake(() => ask(0, 4, chance), 'outOfRange', 'chance');
    }
    for (const ask of [binomialQuantile, binomialUpperQuantile]) {
      for (const p of [0, 1, Number.NaN]) expectMistake(() => ask(p, 4, 0.5), 'outOfRange', 'p');
      expectMistake(() => ask(0.5, -1, 0.5), 'negative', 'n');
      expectMistake(() => ask(0.5, 4, 2), 'outOfRange', 'chance');
    }
  });
});

describe('Poisson distribution', () => {
  it('with mean 2: e^-2 times 1, 2, 2, 4/3', () => {
    const unit = Math.exp(-2);
    for (const [x, times] of [1, 2, 2, 4 / 3].entries()) {
      expect(poissonProbability(x, 2)).toBeCloseTo(times * unit, 15);
    }
    expect(poissonLowerTail(1, 2)).toBeCloseTo(3 * unit, 15);
    expect(poissonUpperTail(1, 2)).toBeCloseTo(1 - 3 * unit, 15);
  });

  it('a quantile includes equality', () => {
    const three = 3 * Math.exp(-2);
    expect([poissonQuantile(three, 2), poissonQuantile(three + 1e-12, 2)]).toEqual([1, 2]);
    expect([poissonUpperQuantile(1 - three, 2), poissonUpperQuantile(1 - three - 1e-12, 2)]).toEqual([1, 2]);
    expect(poissonQuantile(1e-300, 2)).toBe(0);
  });

  it('with mean 0 never counts anything', () => {
    expect([poissonProbability(0, 0), poissonProbability(1, 0)]).toEqual([1, 0]);
    expect([poissonLowerTail(0, 0), poissonUpperTail(0, 0)]).toEqual([1, 0]);
    expect([poissonQuantile(0.999, 0), poissonUpperQuantile(1e-300, 0)]).toEqual([0, 0]);
  });

  it('takes a large mean, and refuses one beyond the counts that can be told apart', () => {
    expect(poissonQuantile(0.5, 1e12)).toBe(1e12);
    for (const mean of [-1, 1.1e15, INFINITY, Number.NaN]) {
      for (const ask of [poissonProbability, poissonLowerTail, poissonUpperTail]) {
        expectMistake(() => ask(1, mean), 'outOfRange', 'mean');
      }
      expectMistake(() => poissonQuantile(0.5, mean), 'outOfRange', 'mean');
      expectMistake(() => poissonUpperQuantile(0.5, mean), 'outOfRange', 'mean');
    }
  });

  it('refuses what cannot be counted', () => {
    for (const ask of [poissonProbability, poissonLowerTail, poissonUpperTail]) {
      expectMistake(() => ask(0.5, 1), 'notInteger', 'x');
      expectMistake(() => ask(-1, 1), 'negative', 'x');
      expectMistake(() => ask(Number.NaN, 1), 'notFinite', 'x');
      expectMistake(() => ask(2 ** 53, 1), 'outOfRange', 'x');
    }
    for (const p of [0, 1, Number.NaN]) {
      expectMistake(() => poissonQuantile(p, 1), 'outOfRange', 'p');
      expectMistake(() => poissonUpperQuantile(p, 1), 'outOfRange', 'p');
    }
  });
});

describe('hypergeometric distribution', () => {
  const urn = { marked: 3, unmarked: 2, drawn: 2 };

  it('of two balls from three marked and two others: 1, 6, 3 tenths', () => {
    for (const [x, ways] of [1, 6, 3].entries()) {
      expect(hypergeometricProbability(x, urn)).toBeCloseTo(ways / 10, 15);
    }
    for (const [x, ways] of [1, 7, 10].entries()) {
      expect(hypergeometricLowerTail(x, urn)).toBeCloseTo(ways / 10, 15);
      expect(hypergeometricUpperTail(x, urn)).toBeCloseTo(1 - ways / 10, 15);
    }
  });

  it('a quantile includes equality', () => {
    expect([hypergeometricQuantile(0.7, urn), hypergeometricQuantile(0.7 + 1e-12, urn)]).toEqual([1, 2]);
    expect([hypergeometricUpperQuantile(0.3, urn), hypergeometricUpperQuantile(0.3 - 1e-12, urn)]).toEqual([
      1, 2,
    ]);
  });

  it('gives nought to counts that the urn does not allow', () => {
    const full = { marked: 4, unmarked: 1, drawn: 3 };
    expect([0, 1].map((x) => hypergeometricProbability(x, full))).toEqual([0, 0]);
    expect([0, 1].map((x) => hypergeometricLowerTail(x, full))).toEqual([0, 0]);
    expect([0, 1].map((x) => hypergeometricUpperTail(x, full))).toEqual([1, 1]);
    expect(hypergeometricProbability(3, full)).toBeCloseTo(4 / 10, 15);
    expect(hypergeometricProbability(2, full)).toBeCloseTo(6 / 10, 15);
    expect(hypergeometricQuantile(1e-300, full)).toBe(2);
    expect(hypergeometricProbability(3, { marked: 2, unmarked: 9, drawn: 3 })).toBe(0);
    expect(hypergeometricLowerTail(2, { marked: 2, unmarked: 9, drawn: 3 })).toBe(1);
  });

  it('is certain where only one count is possible', () => {
    expect(hypergeometricProbability(3, { marked: 5, unmarked: 0, drawn: 3 })).toBe(1);
    expect(hypergeometricProbability(0, { marked: 0, unmarked: 5, drawn: 3 })).toBe(1);
    expect(hypergeometricProbability(0, { marked: 0, unmarked: 0, drawn: 0 })).toBe(1);
    expect(hypergeometricProbability(5, { marked: 5, unmarked: 4, drawn: 9 })).toBe(1);
    expect(hypergeometricLowerTail(0, { marked: 0, unmarked: 0, drawn: 0 })).toBe(1);
    expect(hypergeometricQuantile(0.5, { marked: 0, unmarked: 0, drawn: 0 })).toBe(0);
  });

  it('refuses an urn that cannot be', () => {
    for (const ask of [hypergeometricProbability, hypergeometricLowerTail, hypergeometricUpperTail]) {
      expectMistake(() => ask(3, urn), 'outOfRange', 'x');
      expectMistake(() => ask(0.5, urn), 'notInteger', 'x');
      expectMistake(() => ask(0, { marked: -1, unmarked: 2, drawn: 1 }), 'negative', 'marked');
      expectMistake(() => ask(0, { marked: 1, unmarked: 0.5, drawn: 1 }), 'notInteger', 'unmarked');
      expectMistake(() => ask(0, { marked: 1, unmarked: 2, drawn: Number.NaN }), 'notFinite', 'drawn');
      expectMistake(() => ask(0, { marked: 1, unmarked: 2, drawn: 4 }), 'outOfRange', 'drawn');
      expectMistake(() => ask(0, { marked: 2 ** 52, unmarked: 2 ** 52, drawn: 1 }), 'outOfRange', 'unmarked');
    }
    for (const ask of [hypergeometricQuantile, hypergeometricUpperQuantile]) {
      for (const p of [0, 1, Number.NaN]) expectMistake(() => ask(p, urn), 'outOfRange', 'p');
      expectMistake(() => ask(0.5, { marked: 1, unmarked: 2, drawn: 4 }), 'outOfRange', 'drawn');
    }
  });
});
