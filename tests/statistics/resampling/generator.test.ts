import { describe, expect, it } from 'vitest';
import { deriveGenerator, drawBinomial, drawMultinomial, drawNormal } from '@/lib/statistics';
import { RandomGenerator } from '@/lib/statistics/resampling/generator';
import { expectMistake } from '../expect-mistake';

/** A generator whose words are given, over and over. */
function generatorOf(words: readonly number[]): RandomGenerator {
  let next = 0;
  const generator = new RandomGenerator([1, 2, 3, 4]);
  generator.nextWord = () => words[next++ % words.length];
  return generator;
}

describe('the generator', () => {
  it('gives the same numbers for a seed and others for the next seed', () => {
    const three = (seed: number): number[] => {
      const generator = deriveGenerator(seed);
      return [generator.nextWord(), generator.nextWord(), generator.nextWord()];
    };
    expect(three(7)).toEqual(three(7));
    expect(three(7).filter((word) => three(8).includes(word))).toEqual([]);
    expect(three(2 ** 53 - 1)).not.toEqual(three(0));
  });

  it('makes uniform numbers of 26 upper bits of two words, half a step from either end', () => {
    expect(generatorOf([0]).uniform()).toBe(2 ** -53);
    expect(generatorOf([2 ** 32 - 1]).uniform()).toBe(1 - 2 ** -53);
    expect(generatorOf([2 ** 31, 0]).uniform()).toBe(0.5 + 2 ** -53);
    expect(generatorOf([0, 64]).uniform()).toBe(1.5 * 2 ** -52);
  });

  it('draws again where a word would favour some of the numbers below a count', () => {
    // 2^32 = 3 x 1431655765 + 1: the last word is one too many.
    expect(generatorOf([2 ** 32 - 1, 7]).below(3)).toBe(1);
    expect(generatorOf([2 ** 32 - 2]).below(3)).toBe(2);
    expect(generatorOf([2 ** 32 - 1]).below(4)).toBe(3);
    expect(generatorOf([5]).below(1)).toBe(0);
  });

  it('refuses what is no seed', () => {
    expectMistake(() => deriveGenerator(1.5), 'notInteger', 'seed');
    expectMistake(() => deriveGenerator(Number.NaN), 'notInteger', 'seed');
    expectMistake(() => deriveGenerator(-1), 'negative', 'seed');
    expectMistake(() => deriveGenerator(2 ** 53), 'outOfRange', 'seed');
  });
});

describe('counting draws', () => {
  it('takes from each word the row of its place among all words', () => {
    // The state after k words of one generator is that of another after drawing k rows.
    const rows = 1000;
    const [one, other] = [deriveGenerator(3), deriveGenerator(3)];
    const counts = new Int32Array(rows);
    one.countDraws(
      Int32Array.from({ length: rows }, (_, i) => i),
      counts,
    );
    const expected = new Int32Array(rows);
    for (let left = rows; left > 0; ) {
      const product = BigInt(other.nextWord()) * BigInt(rows);
      if (product % 2n ** 32n < 2n ** 32n % BigInt(rows)) continue;
      expected[Number(product >> 32n)] += 1;
      left -= 1;
    }
    expect(counts).toEqual(expected);
    expect(one.nextWord()).toBe(other.nextWord());
  });

  it('draws again where a word would favour some rows', () => {
    // With so many rows one word in some 4440 is drawn again.
    const rows = 2_000_000;
    const unfair = 2 ** 32 % rows;
    expect(unfair).toBe(967_296);
    const generator = deriveGenerator(5);
    const counts = new Int32Array(1);
    const cells = new Int32Array(rows);
    generator.countDraws(cells, counts);
    expect(counts[0]).toBe(rows);
    const again = deriveGenerator(5);
    let words = 0;
    const product = (): bigint => (BigInt(again.nextWord()) * BigInt(rows)) % 2n ** 32n;
    for (let left = rows; left > 0; words += 1) if (product() >= BigInt(unfair)) left -= 1;
    expect(words).toBeGreaterThan(rows);
    expect(generator.nextWord()).toBe(again.nextWord());
  });
});

describe('draws', () => {
  it('of the normal distribution are its quantiles at uniform draws', () => {
    expect(drawNormal(generatorOf([2 ** 31, 0]))).toBeCloseTo(0, 12);
    // 0.975 of 2^32.
    expect(drawNormal(generatorOf([Math.round(0.975 * 2 ** 32), 0]))).toBeCloseTo(1.959963984540054, 6);
  });

  it('of few expected successes count up to where the uniform draw falls', () => {
    // Two trials of 1/4: 9/16, 15/16, 1.
    const at = (u: number): number => drawBinomial(generatorOf([Math.round(u * 2 ** 32), 0]), 2, 0.25);
    expect([at(0.56), at(0.565), at(0.93), at(0.94), at(0.9999)]).toEqual([0, 1, 1, 2, 2]);
    // Above one half failures are counted instead.
    const turned = (u: number): number => drawBinomial(generatorOf([Math.round(u * 2 ** 32), 0]), 2, 0.75);
    expect([turned(0.56), turned(0.565), turned(0.94)]).toEqual([2, 1, 0]);
  });

  it('are certain where there is no chance', () => {
    const generator = deriveGenerator(1);
    expect(drawBinomial(generator, 50, 0)).toBe(0);
    expect(drawBinomial(generator, 50, 1)).toBe(50);
    expect(drawBinomial(generator, 0, 0.4)).toBe(0);
    expect(Array.from(drawMultinomial(generator, 9, [0, 2, 0]))).toEqual([0, 9, 0]);
    expect(Array.from(drawMultinomial(generator, 0, [1, 2]))).toEqual([0, 0]);
  });

  it('refuse mistakes', () => {
    const generator = deriveGenerator(1);
    expectMistake(() => drawBinomial(generator, 1.5, 0.5), 'notInteger', 'n');
    expectMistake(() => drawBinomial(generator, -1, 0.5), 'negative', 'n');
    expectMistake(() => drawBinomial(generator, 1, 1.5), 'outOfRange', 'probability');
    expectMistake(() => drawBinomial(generator, 1, -0.5), 'outOfRange', 'probability');
    expectMistake(() => drawBinomial(generator, 1, Number.NaN), 'outOfRange', 'probability');
    expectMistake(() => drawMultinomial(generator, 0.5, [1]), 'notInteger', 'n');
    expectMistake(() => drawMultinomial(generator, 1, [1, -1]), 'negative', 'weights', 1);
    expectMistake(() => drawMultinomial(generator, 1, [0, 0]), 'outOfRange', 'weights');
    expectMistake(() => drawMultinomial(generator, 1, []), 'outOfRange', 'weights');
  });
});
