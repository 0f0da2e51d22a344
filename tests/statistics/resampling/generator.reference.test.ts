import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { deriveGenerator, drawBinomial, drawMultinomial, drawNormal } from '@/lib/statistics';
import { RandomGenerator, splitmix64 } from '@/lib/statistics/resampling/generator';
import { loadReference } from '../reference-cases';

const { splitmix64: seeds, xoshiro128starstar } = loadReference(
  'random-generator',
  z.object({
    splitmix64: z.object({ seed: z.number(), words: z.array(z.string()) }),
    xoshiro128starstar: z.object({
      state: z.tuple([z.number(), z.number(), z.number(), z.number()]),
      words: z.array(z.number()),
    }),
  }),
);

it("gives the words of the authors' xoshiro128starstar.c from the state 1, 2, 3, 4", () => {
  const generator = new RandomGenerator(xoshiro128starstar.state);
  expect(xoshiro128starstar.words.map(() => generator.nextWord())).toEqual(xoshiro128starstar.words);
});

it("seeds by the words of the authors' splitmix64.c, lower half first", () => {
  expect(splitmix64(BigInt(seeds.seed), seeds.words.length).map(String)).toEqual(seeds.words);
  const [a, b] = seeds.words.map(BigInt);
  const half = (word: bigint): [number, number] => [Number(word & 0xffffffffn), Number(word >> 32n)];
  const same = new RandomGenerator([...half(a), ...half(b)]);
  const derived = deriveGenerator(seeds.seed);
  expect([derived.nextWord(), derived.nextWord()]).toEqual([same.nextWord(), same.nextWord()]);
});

/** Sum of (counted - expected)^2/expected over cells of five expected or more, and how many there are. */
function deviance(counted: readonly number[], expected: readonly number[]): { sum: number; cells: number } {
  let [sum, cells, restCounted, restExpected] = [0, 0, 0, 0];
  for (const [i, want] of expected.entries()) {
    restCounted += counted[i];
    restExpected += want;
    if (restExpected < 5) continue;
    sum += (restCounted - restExpected) ** 2 / restExpected;
    cells += 1;
    [restCounted, restExpected] = [0, 0];
  }
  return { sum, cells };
}

describe("20,000 draws lie about R's probabilities (dbinom) as chance allows", () => {
  const draws = 20_000;
  const { cases } = loadReference(
    'binomial-probabilities',
    z.object({
      cases: z.array(z.object({ n: z.number(), p: z.number(), probabilities: z.array(z.number()) })),
    }),
  );

  it.each(cases)('of $n trials with probability $p', ({ n, p, probabilities }) => {
    const generator = deriveGenerator(n);
    const counted = probabilities.map(() => 0);
    for (let i = 0; i < draws; i += 1) counted[drawBinomial(generator, n, p)] += 1;
    const { sum, cells } = deviance(
      counted,
      probabilities.map((probability) => probability * draws),
    );
    // Chi-square with cells - 1 degrees of freedom, five standard deviations up; the seed is fixed.
    expect(sum).toBeLessThan(cells - 1 + 5 * Math.sqrt(2 * (cells - 1)));
  });

  it('in each category of a multinomial draw', () => {
    const [, { probabilities }] = cases;
    const counts = Array.from(drawMultinomial(deriveGenerator(99), draws, probabilities));
    expect(counts.reduce((sum, count) => sum + count, 0)).toBe(draws);
    const { sum, cells } = deviance(
      counts,
      probabilities.map((probability) => probability * draws),
    );
    expect(sum).toBeLessThan(cells - 1 + 5 * Math.sqrt(2 * (cells - 1)));
  });

  it('of a normal distribution, whose middle half lies within 0.6744898 (qnorm)', () => {
    const generator = deriveGenerator(12);
    let [within, sum, squares] = [0, 0, 0];
    for (let i = 0; i < draws; i += 1) {
      const value = drawNormal(generator);
      sum += value;
      squares += value * value;
      if (Math.abs(value) < 0.6744898) within += 1;
    }
    expect(Math.abs(within / draws - 0.5)).toBeLessThan(4 * Math.sqrt(0.25 / draws));
    expect(Math.abs(sum / draws)).toBeLessThan(4 / Math.sqrt(draws));
    expect(Math.abs(squares / draws - 1)).toBeLessThan(4 * Math.sqrt(2 / draws));
  });
});
