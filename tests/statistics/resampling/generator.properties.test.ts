import fc from 'fast-check';
import { expect, it } from 'vitest';
import { deriveGenerator, drawBinomial, drawMultinomial, drawNormal } from '@/lib/statistics';

const seed = fc.maxSafeNat();

it('is repeated by its seed, whatever is drawn', () => {
  fc.assert(
    fc.property(seed, (number) => {
      const draw = () => {
        const generator = deriveGenerator(number);
        return [
          generator.uniform(),
          drawNormal(generator),
          drawBinomial(generator, 100, 0.3),
          ...drawMultinomial(generator, 30, [1, 2, 3]),
          generator.nextWord(),
        ];
      };
      expect(draw()).toEqual(draw());
    }),
  );
});

it('keeps within bounds: uniform numbers inside 0 and 1, counts between 0 and n, categories adding up', () => {
  fc.assert(
    fc.property(
      seed,
      fc.integer({ min: 0, max: 5000 }),
      fc.double({ min: 0, max: 1, noNaN: true }),
      fc.array(fc.integer({ min: 0, max: 9 }), { minLength: 1, maxLength: 12 }),
      (number, n, p, weights) => {
        const generator = deriveGenerator(number);
        const u = generator.uniform();
        expect(u > 0 && u < 1).toBe(true);
        const count = drawBinomial(generator, n, p);
        expect(Number.isInteger(count) && count >= 0 && count <= n).toBe(true);
        if (!weights.some((weight) => weight > 0)) return;
        const counts = drawMultinomial(generator, n, weights);
        expect(counts.reduce((sum, value) => sum + value, 0)).toBe(n);
        for (const [i, weight] of weights.entries()) if (weight === 0) expect(counts[i]).toBe(0);
        const below = generator.below(n + 1);
        expect(Number.isInteger(below) && below >= 0 && below <= n).toBe(true);
      },
    ),
  );
});
