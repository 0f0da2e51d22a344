import fc from 'fast-check';
import { expect, it } from 'vitest';
import { testBarnard, testBoschloo, testFisherExact } from '@/lib/statistics';
import { estimable } from '../estimable';

const arms = fc
  .integer({ min: 1, max: 14 })
  .chain((n) => fc.record({ n: fc.constant(n), events: fc.integer({ min: 0, max: n }) }));

function binomial(n: number, x: number, p: number): number {
  let ways = 1;
  for (let i = 0; i < x; i += 1) ways = (ways * (n - i)) / (i + 1);
  return ways * p ** x * (1 - p) ** (n - x);
}

/**
 * The largest chance of a set of tables on a plain fine grid: never above the true maximum, and below it by less than a
 * thousandth: half a step of 1/400 from a maximum, against a curvature of at most about n/(p(1 - p)).
 */
function onGrid(n1: number, n2: number, holds: (x: number, y: number) => boolean): number {
  let best = 0;
  for (let step = 0; step <= 400; step += 1) {
    let sum = 0;
    for (let x = 0; x <= n1; x += 1) {
      for (let y = 0; y <= n2; y += 1) {
        if (holds(x, y)) sum += binomial(n1, x, step / 400) * binomial(n2, y, step / 400);
      }
    }
    best = Math.max(best, sum);
  }
  return best;
}

it('Barnard: the largest chance of all tables at least as far apart', () => {
  fc.assert(
    fc.property(arms, arms, (first, second) => {
      const squared = (x: number, y: number): number => {
        const [n1, n2] = [first.n, second.n];
        const all = x + y;
        if (x * n2 === y * n1) return 0;
        return ((x * n2 - y * n1) ** 2 * (n1 + n2)) / (n1 * n2 * all * (n1 + n2 - all));
      };
      const found = estimable(testBarnard(first, second));
      const seen = squared(first.events, second.events);
      expect(found.statistic ** 2).toBeCloseTo(seen, 9);
      const grid = onGrid(first.n, second.n, (x, y) => squared(x, y) >= seen - 1e-9);
      expect(found.pValue).toBeGreaterThanOrEqual(grid - 1e-12);
      expect(found.pValue).toBeLessThanOrEqual(grid + 1e-3);
    }),
    { numRuns: 60 },
  );
});

it('Boschloo: the largest chance of all tables with as small a Fisher p, and never above that p', () => {
  fc.assert(
    fc.property(arms, arms, (first, second) => {
      const found = estimable(testBoschloo(first, second));
      const fisher = estimable(testFisherExact(first, second));
      expect(found.pLess).toBeLessThanOrEqual(fisher.pLess + 1e-12);
      expect(found.pGreater).toBeLessThanOrEqual(fisher.pGreater + 1e-12);
      const less = (x: number, y: number): boolean =>
        estimable(testFisherExact({ events: x, n: first.n }, { events: y, n: second.n })).pLess <=
        fisher.pLess + 1e-9;
      const grid = onGrid(first.n, second.n, less);
      expect(found.pLess).toBeGreaterThanOrEqual(grid - 1e-12);
      expect(found.pLess).toBeLessThanOrEqual(grid + 1e-3);
    }),
    { numRuns: 30 },
  );
});

it('the arms and the outcome may change places', () => {
  fc.assert(
    fc.property(arms, arms, fc.constantFrom('pooled', 'unpooled'), (first, second, variance) => {
      const others = [first, second].map(({ events, n }) => ({ events: n - events, n }));
      const here = estimable(testBarnard(first, second, { variance }));
      const swapped = estimable(testBarnard(second, first, { variance }));
      const mirrored = estimable(testBarnard(others[0], others[1], { variance }));
      expect(swapped.pValue).toBeCloseTo(here.pValue, 10);
      expect(mirrored.pValue).toBeCloseTo(here.pValue, 10);
      const boschloo = estimable(testBoschloo(first, second));
      expect(estimable(testBoschloo(others[0], others[1])).pGreater).toBeCloseTo(boschloo.pLess, 10);
    }),
    { numRuns: 60 },
  );
});
