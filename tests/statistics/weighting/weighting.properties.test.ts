import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  deriveBalancingWeights,
  estimateBalance,
  estimateEffectiveSampleSize,
  estimateEValue,
  estimatePropensityVariance,
  estimatePropensityWeightedDifference,
  estimateWeightedDifference,
  fitLogisticRegression,
} from '@/lib/statistics';

type Rows = { treated: number[]; outcome: number[]; mark: number[]; level: number[]; weights: number[] };

const rows: fc.Arbitrary<Rows> = fc
  .array(
    fc.record({
      treated: fc.integer({ min: 0, max: 1 }),
      outcome: fc.integer({ min: -3, max: 5 }),
      mark: fc.integer({ min: 0, max: 1 }),
      level: fc.integer({ min: 0, max: 3 }),
      weight: fc.integer({ min: 1, max: 12 }).map((quarters) => quarters / 4),
    }),
    { minLength: 6, maxLength: 40 },
  )
  .map((list) => ({
    treated: list.map((row) => row.treated),
    outcome: list.map((row) => row.outcome),
    mark: list.map((row) => row.mark),
    level: list.map((row) => row.level),
    weights: list.map((row) => row.weight),
  }));

const ESTIMANDS = ['ate', 'att', 'atc', 'overlap', 'matching'] as const;

it('overlap weights of a logistic fit balance the means of its covariates exactly', () => {
  fc.assert(
    fc.property(rows, ({ treated, mark, level }) => {
      const covariates = [mark, level];
      const fit = fitLogisticRegression({ outcome: treated, covariates });
      if (fit.kind === 'notEstimable') return;
      const derived = deriveBalancingWeights({ treated, propensity: fit.fitted }, { estimand: 'overlap' });
      if (derived.kind === 'notEstimable') throw new Error(derived.reason);
      const found = estimateBalance({ treated, covariates, weights: derived.weights });
      if ('kind' in found) throw new Error(found.reason);
      for (const [j, one] of found.entries())
        if (fit.estimated.includes(j)) expect(one.treatedMean).toBeCloseTo(one.controlMean, 6);
    }),
  );
});

it('turns treated and others round: ate, overlap and matching weights stay, att becomes atc', () => {
  fc.assert(
    fc.property(rows, fc.double({ min: 0.01, max: 0.99, noNaN: true }), ({ treated, level }, centre) => {
      if (!treated.includes(0) || !treated.includes(1)) return;
      const propensity = level.map((x) => Math.min(0.99, centre * (1 + x / 10)));
      const turned = {
        treated: treated.map((t) => 1 - t),
        propensity: propensity.map((e) => 1 - e),
      };
      for (const estimand of ESTIMANDS) {
        const mirrored = estimand === 'att' ? 'atc' : estimand === 'atc' ? 'att' : estimand;
        const one = deriveBalancingWeights({ treated, propensity }, { estimand });
        const other = deriveBalancingWeights(turned, { estimand: mirrored });
        if (one.kind === 'notEstimable' || other.kind === 'notEstimable') throw new Error('both groups');
        for (const [i, weight] of one.weights.entries())
          expect(Math.abs(other.weights[i] / weight - 1)).toBeLessThan(1e-9);
      }
    }),
  );
});

it('effective sizes lie between 1 and the rows, which equal weights reach, whatever the scale', () => {
  fc.assert(
    fc.property(rows, fc.double({ min: 0.1, max: 10, noNaN: true }), ({ weights }, scale) => {
      const [size] = estimateEffectiveSampleSize({ weights });
      const [scaled] = estimateEffectiveSampleSize({ weights: weights.map((w) => w * scale) });
      if (typeof size !== 'number' || typeof scaled !== 'number') throw new Error('weights above 0');
      expect(size).toBeGreaterThanOrEqual(1);
      expect(size).toBeLessThanOrEqual(weights.length + 1e-9);
      expect(scaled).toBeCloseTo(size, 8);
      const [equal] = estimateEffectiveSampleSize({ weights: weights.map(() => scale) });
      expect(equal).toBeCloseTo(weights.length, 8);
    }),
  );
});

it('balance does not know the unit of a covariate, nor that weights are all alike', () => {
  fc.assert(
    fc.property(rows, ({ treated, level }) => {
      const plain = estimateBalance({ treated, covariates: [level] });
      const same = estimateBalance({
        treated,
        covariates: [level.map((x) => 10 * x - 3)],
        weights: level.map(() => 2),
      });
      if ('kind' in plain || 'kind' in same) {
        expect(same).toEqual(plain);
        return;
      }
      const [one, other] = [plain[0].standardisedDifference, same[0].standardisedDifference];
      // A column of 0 and 1 has the variance p (1 - p), which its multiple has not.
      if (plain[0].binary) return;
      if (typeof one === 'number') expect(other).toBeCloseTo(one, 9);
      else expect(other).toEqual(one);
    }),
  );
});

it('E-values of a ratio and of its reciprocal are one, at least the ratio, and rise with it', () => {
  fc.assert(
    fc.property(fc.double({ min: 1, max: 1e3, noNaN: true }), (estimate) => {
      for (const measure of ['riskRatio', 'oddsRatioCommon', 'hazardRatioCommon'] as const) {
        const found = estimateEValue({ estimate }, { measure });
        const turned = estimateEValue({ estimate: 1 / estimate }, { measure });
        expect(Math.abs(turned.eValue / found.eValue - 1)).toBeLessThan(1e-6);
        expect(found.eValue).toBeGreaterThanOrEqual(found.riskRatio);
        const larger = estimateEValue({ estimate: 2 * estimate }, { measure });
        expect(larger.eValue).toBeGreaterThan(found.eValue);
      }
    }),
  );
});

it('weighted differences follow the scale of the outcome, not that of the weights', () => {
  fc.assert(
    fc.property(rows, ({ outcome, treated, weights }) => {
      const found = estimateWeightedDifference({ outcome, treated, weights });
      const other = estimateWeightedDifference({
        outcome: outcome.map((y) => 7 - 2 * y),
        treated,
        weights: weights.map((w) => 5 * w),
      });
      if (found.kind === 'notEstimable' || other.kind === 'notEstimable') {
        expect(other).toEqual(found);
        return;
      }
      expect(other.difference).toBeCloseTo(-2 * found.difference, 10);
      if (found.interval.kind === 'notEstimable' || other.interval.kind === 'notEstimable') return;
      expect(other.interval.standardError).toBeCloseTo(2 * found.interval.standardError, 10);
    }),
  );
});

it('weighting by one mark is standardisation over it, in value and in variance', () => {
  fc.assert(
    fc.property(rows, ({ outcome, treated, mark }) => {
      const found = estimatePropensityWeightedDifference(
        { outcome, treated, covariates: [mark] },
        { estimand: 'ate' },
      );
      if (found.kind === 'notEstimable' || !mark.includes(0) || !mark.includes(1)) return;
      const n = outcome.length;
      const count = (test: (i: number) => boolean): number => [...outcome.keys()].filter(test).length;
      const mean = (m: number, t: number): number => {
        const own = outcome.filter((_, i) => mark[i] === m && treated[i] === t);
        return own.reduce((sum, y) => sum + y, 0) / own.length;
      };
      const share = [0, 1].map(
        (m) => count((i) => mark[i] === m && treated[i] === 1) / count((i) => mark[i] === m),
      );
      const means = [0, 1].map((m) => [mean(m, 0), mean(m, 1)]);
      const difference = mark.reduce((sum, m) => sum + (means[m][1] - means[m][0]) / n, 0);
      expect(found.difference).toBeCloseTo(difference, 6);
      // The efficient influence function with a mean per cell (Hahn, Econometrica 1998;66:315).
      const variance = outcome.reduce((sum, y, i) => {
        const m = mark[i];
        const residual = treated[i] === 1 ? (y - means[m][1]) / share[m] : (means[m][0] - y) / (1 - share[m]);
        return sum + ((residual + means[m][1] - means[m][0] - difference) / n) ** 2;
      }, 0);
      const standardError = found.interval.kind === 'estimated' ? found.interval.standardError : 0;
      expect(standardError).toBeCloseTo(Math.sqrt(variance), 5);
    }),
  );
});

it('the variance from slopes grows with their square', () => {
  fc.assert(
    fc.property(rows, ({ outcome, treated, mark, level }) => {
      const of = (slope: number[]) =>
        estimatePropensityVariance({ treated, covariates: [mark, level], slope }, { estimand: 'att' });
      const [one, three] = [of(outcome), of(outcome.map((y) => 3 * y))];
      if (one.kind === 'notEstimable' || three.kind === 'notEstimable') {
        expect(three).toEqual(one);
        return;
      }
      expect(three.variance).toBeCloseTo(9 * one.variance, 4);
    }),
  );
});
