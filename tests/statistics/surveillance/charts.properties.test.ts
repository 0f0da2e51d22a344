import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  deriveBernoulliCusum,
  deriveEwma,
  deriveObservedMinusExpected,
  deriveRiskAdjustedCusum,
  deriveRiskAdjustedEwma,
  deriveTabularCusum,
} from '@/lib/statistics';
import { estimable } from '../estimable';

const value = fc.double({ min: -50, max: 50, noNaN: true });
const share = fc.double({ min: 0.01, max: 1, noNaN: true });
const rows = fc.array(
  fc.record({
    event: fc.constantFrom(0, 1),
    probability: fc.double({ min: 0.001, max: 0.999, noNaN: true }),
  }),
  { minLength: 1, maxLength: 60 },
);
const oddsRatios = fc.constantFrom(0.25, 0.5, 1.5, 2, 4);
const columns = (list: readonly { event: number; probability: number }[]) => ({
  event: list.map(({ event }) => event),
  probability: list.map(({ probability }) => probability),
});

it('an average is the weighted sum of all values so far, and moves and scales with them', () => {
  fc.assert(
    fc.property(fc.array(value, { minLength: 1, maxLength: 30 }), share, value, (x, newestShare, shift) => {
      const design = { target: 0, standardDeviation: 1, newestShare, limitWidth: 3 };
      const chart = deriveEwma(x, design);
      const last = x.reduce(
        (sum, v, i) => sum + newestShare * (1 - newestShare) ** (x.length - 1 - i) * v,
        0,
      );
      expect(chart.average[x.length - 1]).toBeCloseTo(last, 9);
      const moved = deriveEwma(
        x.map((v) => 2 * v + shift),
        { ...design, target: shift, standardDeviation: 2 },
      );
      x.forEach((_, i) => {
        expect(moved.average[i]).toBeCloseTo(2 * chart.average[i] + shift, 9);
        expect(moved.upper[i]).toBeCloseTo(2 * chart.upper[i] + shift, 9);
        expect(chart.upper[i]).toBeLessThanOrEqual(chart.asymptoticUpper);
        expect(chart.lower[i]).toBeGreaterThanOrEqual(chart.asymptoticLower);
        expect(chart.upper[i]).toBeGreaterThanOrEqual(i === 0 ? 0 : chart.upper[i - 1]);
      });
    }),
  );
});

it('with one risk for all, the risk-adjusted average has the limits of the plain one', () => {
  fc.assert(
    fc.property(rows, share, fc.double({ min: 0.05, max: 0.95, noNaN: true }), (list, newestShare, p) => {
      const { event } = columns(list);
      const adjusted = estimable(
        deriveRiskAdjustedEwma(
          { event, probability: event.map(() => p) },
          { newestShare, limitWidth: 2, start: p },
        ),
      );
      const plain = deriveEwma(event, {
        target: p,
        standardDeviation: Math.sqrt(p * (1 - p)),
        newestShare,
        limitWidth: 2,
      });
      event.forEach((_, i) => {
        expect(adjusted.observed[i]).toBeCloseTo(plain.average[i], 10);
        expect(adjusted.upper[i]).toBeCloseTo(Math.min(1, plain.upper[i]), 10);
        expect(adjusted.lower[i]).toBeCloseTo(Math.max(0, plain.lower[i]), 10);
      });
    }),
  );
});

it('a sum is how far the walk stands above its lowest point so far', () => {
  fc.assert(
    fc.property(
      rows,
      oddsRatios,
      fc.double({ min: 0.1, max: 5, noNaN: true }),
      (list, oddsRatio, threshold) => {
        const chart = deriveRiskAdjustedCusum(columns(list), { oddsRatio, threshold });
        let [walk, lowest] = [0, 0];
        chart.weight.forEach((w, i) => {
          walk += w;
          lowest = Math.min(lowest, walk);
          expect(chart.sum[i]).toBeCloseTo(walk - lowest, 9);
          expect(chart.sumWithReset[i]).toBeLessThanOrEqual(chart.sum[i] + 1e-9);
        });
        const [first] = chart.signals;
        expect(chart.firstSignal).toEqual(
          first === undefined ? { kind: 'quiet' } : { kind: 'signal', atCase: first },
        );
        // Starting again is the same as a new chart from the case after the signal.
        if (first !== undefined) {
          const rest = deriveRiskAdjustedCusum(columns(list.slice(first)), { oddsRatio, threshold });
          expect([...rest.sumWithReset]).toEqual([...chart.sumWithReset.slice(first)]);
          expect(rest.signals.map((signal) => signal + first)).toEqual(chart.signals.slice(1));
        }
      },
    ),
  );
});

it('turned outcomes, risks and odds ratio give the same weights', () => {
  fc.assert(
    fc.property(rows, oddsRatios, (list, oddsRatio) => {
      const turned = list.map(({ event, probability }) => ({
        event: 1 - event,
        probability: 1 - probability,
      }));
      const here = deriveRiskAdjustedCusum(columns(list), { oddsRatio, threshold: 1 });
      const there = deriveRiskAdjustedCusum(columns(turned), { oddsRatio: 1 / oddsRatio, threshold: 1 });
      here.weight.forEach((w, i) => {
        expect(there.weight[i]).toBeCloseTo(w, 10);
      });
    }),
  );
});

it('in control the mean weight is negative for every risk, after the shift it is positive', () => {
  fc.assert(
    fc.property(fc.double({ min: 0.001, max: 0.999, noNaN: true }), oddsRatios, (p, oddsRatio) => {
      const { weight } = deriveRiskAdjustedCusum(
        { event: [1, 0], probability: [p, p] },
        { oddsRatio, threshold: 1 },
      );
      expect(p * weight[0] + (1 - p) * weight[1]).toBeLessThan(0);
      const shifted = (oddsRatio * p) / (1 - p + oddsRatio * p);
      expect(shifted * weight[0] + (1 - shifted) * weight[1]).toBeGreaterThan(0);
    }),
  );
});

it('equal risks give the Bernoulli sum', () => {
  fc.assert(
    fc.property(rows, oddsRatios, fc.double({ min: 0.01, max: 0.99, noNaN: true }), (list, oddsRatio, p) => {
      const { event } = columns(list);
      const adjusted = deriveRiskAdjustedCusum(
        { event, probability: event.map(() => p) },
        { oddsRatio, threshold: 1e9 },
      );
      const shiftedRate = (oddsRatio * p) / (1 - p + oddsRatio * p);
      const plain = deriveBernoulliCusum(event, { baselineRate: p, shiftedRate, threshold: 1e9 });
      plain.sum.forEach((s, i) => {
        expect(adjusted.sum[i]).toBeCloseTo(s, 8);
      });
    }),
  );
});

it('the last of the running sums does not depend on the order of the cases', () => {
  fc.assert(
    fc.property(rows, (list) => {
      const here = deriveObservedMinusExpected(columns(list));
      const there = deriveObservedMinusExpected(columns([...list].reverse()));
      const end = list.length - 1;
      expect(there.observed[end]).toBe(here.observed[end]);
      expect(there.vlad[end]).toBeCloseTo(here.vlad[end], 10);
      expect(here.vlad[end]).toBe(-here.observedMinusExpected[end]);
      expect(there.standardDeviation[end]).toBeCloseTo(here.standardDeviation[end], 10);
    }),
  );
});

it('mirrored values swap the sums above and below', () => {
  fc.assert(
    fc.property(
      fc.array(value, { maxLength: 40 }),
      fc.double({ min: 0, max: 5, noNaN: true }),
      (x, slack) => {
        const design = { target: 1, slack, threshold: 4 };
        const here = deriveTabularCusum(x, design);
        const there = deriveTabularCusum(
          x.map((v) => 2 - v),
          design,
        );
        x.forEach((_, i) => {
          expect(there.high[i]).toBeCloseTo(here.low[i], 9);
          expect(there.low[i]).toBeCloseTo(here.high[i], 9);
        });
      },
    ),
  );
});
