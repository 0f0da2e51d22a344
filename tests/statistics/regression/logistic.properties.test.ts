import fc from 'fast-check';
import { expect, it } from 'vitest';
import { estimateCStatistic, fitLogisticRegression, type LogisticFit } from '@/lib/statistics';

type Rows = { outcome: number[]; first: number[]; second: number[]; weight: number[] };

/** Few values, so that rows repeat and outcomes are seldom separated. */
const rows: fc.Arbitrary<Rows> = fc
  .array(
    fc.record({
      outcome: fc.integer({ min: 0, max: 1 }),
      first: fc.integer({ min: -2, max: 2 }),
      second: fc.integer({ min: 0, max: 3 }),
      weight: fc.integer({ min: 0, max: 3 }),
    }),
    { minLength: 4, maxLength: 30 },
  )
  .map((list) => ({
    outcome: list.map((row) => row.outcome),
    first: list.map((row) => row.first),
    second: list.map((row) => row.second),
    weight: list.map((row) => row.weight),
  }));

const coefficients = (fit: LogisticFit): (number | string)[] =>
  [fit.intercept, ...fit.terms].map((term) => (term.kind === 'estimated' ? term.coefficient : term.code));

const close = (got: readonly (number | string)[], want: readonly (number | string)[]): void => {
  expect(got.length).toBe(want.length);
  for (const [i, value] of want.entries()) {
    const found = got[i];
    if (typeof value === 'number' && typeof found === 'number')
      expect(Math.abs(found - value)).toBeLessThan(1e-7 * (1 + Math.abs(value)));
    else expect(found).toBe(value);
  }
};

it('fits as many outcomes as were seen, in all and along each covariate', () => {
  fc.assert(
    fc.property(rows, ({ outcome, first, second, weight }) => {
      const fit = fitLogisticRegression({ outcome, covariates: [first, second], weights: weight });
      if (fit.kind === 'notEstimable') return;
      for (const column of [outcome.map(() => 1), first, second]) {
        const sum = outcome.reduce((s, y, i) => s + weight[i] * column[i] * (y - fit.fitted[i]), 0);
        expect(Math.abs(sum)).toBeLessThan(1e-5);
      }
      expect(fit.deviance).toBeLessThanOrEqual(fit.nullDeviance + 1e-9);
    }),
  );
});

it('gives whole weights the fit of rows written as often, and forgets the order of the rows', () => {
  fc.assert(
    fc.property(rows, ({ outcome, first, second, weight }) => {
      const written = [...outcome.keys()].reverse().flatMap((i) => Array<number>(weight[i]).fill(i));
      const pick = (column: number[]): number[] => written.map((i) => column[i]);
      const one = fitLogisticRegression({ outcome, covariates: [first, second], weights: weight });
      const other = fitLogisticRegression({
        outcome: pick(outcome),
        covariates: [pick(first), pick(second)],
      });
      expect(other.kind).toBe(one.kind);
      if (one.kind === 'notEstimable' || other.kind === 'notEstimable') {
        expect(other).toEqual(one);
        return;
      }
      close(coefficients(other), coefficients(one));
      expect(other.deviance).toBeCloseTo(one.deviance, 7);
    }),
  );
});

it('turns its signs with the outcome, and its units with the covariate', () => {
  fc.assert(
    fc.property(rows, ({ outcome, first, second }) => {
      const fit = fitLogisticRegression({ outcome, covariates: [first, second] });
      const turned = fitLogisticRegression({
        outcome: outcome.map((y) => 1 - y),
        covariates: [first.map((x) => 1000 * x), second],
      });
      expect(turned.kind).toBe(fit.kind);
      if (fit.kind === 'notEstimable' || turned.kind === 'notEstimable') return;
      const [intercept, one, two] = coefficients(fit);
      const scaled = typeof one === 'number' ? -one / 1000 : one;
      const minus = (value: number | string): number | string => (typeof value === 'number' ? -value : value);
      close(coefficients(turned), [minus(intercept), scaled, minus(two)]);
    }),
  );
});

it('has no finite fit exactly when some direction separates the outcomes, tried over all directions of a grid', () => {
  // With one covariate of whole numbers the outcomes are separated when their ranges meet in at most one value.
  fc.assert(
    fc.property(rows, ({ outcome, first }) => {
      const fit = fitLogisticRegression({ outcome, covariates: [first] });
      const range = (y: number): number[] => {
        const values = first.filter((_, i) => outcome[i] === y);
        return [Math.min(...values), Math.max(...values)];
      };
      const [low, high] = [range(0), range(1)];
      const oneOutcome = outcome.every((y) => y === outcome[0]);
      const constant = first.every((x) => x === first[0]);
      const apart = low[1] <= high[0] || high[1] <= low[0];
      const code = fit.kind === 'notEstimable' ? fit.code : fit.kind;
      expect(code).toBe(oneOutcome ? 'oneOutcome' : apart && !constant ? 'separation' : 'fitted');
    }),
    { numRuns: 300 },
  );
});

it('turns the C statistic with the marker, and leaves it under any rising change of it', () => {
  fc.assert(
    fc.property(rows, ({ outcome, first, second }) => {
      const marker = first.map((x, i) => 3 * x + second[i]);
      const found = estimateCStatistic({ outcome, marker });
      const turned = estimateCStatistic({ outcome, marker: marker.map((m) => -m) });
      const bent = estimateCStatistic({ outcome, marker: marker.map((m) => m ** 3) });
      expect(bent).toEqual(found);
      if (found.kind === 'notEstimable' || turned.kind === 'notEstimable') return;
      expect(turned.cStatistic).toBeCloseTo(1 - found.cStatistic, 12);
    }),
  );
});
