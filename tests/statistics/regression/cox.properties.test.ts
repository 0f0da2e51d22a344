import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  type CoxData,
  type CoxOptions,
  type CoxTies,
  deriveMartingaleResiduals,
  deriveSchoenfeldResiduals,
  estimateAdjustedCoxCurve,
  estimateConcordance,
  estimateCoxCurve,
  estimateNelsonAalen,
  fitCox,
  fitCoxByGroup,
  testLogRank,
  testProportionalHazards,
} from '@/lib/statistics';
import { estimated } from '../survival/estimated';
import { type CoxRows, coxRows, plain, replicated, reversedRows } from './cox-rows';

const ties = fc.constantFrom<CoxTies>('efron', 'breslow');
const runs = { numRuns: 60 };

/** What a fit says, or why it does not: every number that must not change. */
function numbersOf(data: CoxData, options: CoxOptions = {}): { says: string; numbers: number[] } {
  const fit = fitCox(data, options);
  if (fit.kind === 'notEstimable') return { says: fit.code, numbers: [] };
  const says = [fit.kind, ...fit.coefficients.map((one) => (one.kind === 'infinite' ? one.sign : one.kind))];
  const each = fit.coefficients.flatMap((one) => {
    if (one.kind !== 'estimated') return [];
    return one.interval.kind === 'estimated'
      ? [one.coefficient, one.interval.standardError]
      : [one.coefficient];
  });
  const { nullLogLikelihood, logLikelihood, likelihoodRatio, score } = fit;
  const numbers = [...each, nullLogLikelihood, logLikelihood, likelihoodRatio.chiSquare, score.chiSquare];
  return { says: says.join(' '), numbers };
}

function expectSame(
  got: { says: string; numbers: number[] },
  want: { says: string; numbers: number[] },
  digits = 1e-8,
): void {
  expect(got.says).toBe(want.says);
  const far = got.numbers.filter(
    (value, i) => !(Math.abs(value - want.numbers[i]) <= digits * (1 + Math.abs(value))),
  );
  expect(far, `${got.numbers} against ${want.numbers}`).toEqual([]);
}

it('does not depend on the order of the rows', () => {
  fc.assert(
    fc.property(coxRows(), ties, (rows, rule) => {
      expectSame(numbersOf(reversedRows(rows), { ties: rule }), numbersOf(rows, { ties: rule }));
    }),
    runs,
  );
});

it('has a coefficient per unit: shifting a covariate changes nothing, multiplying it divides the coefficient', () => {
  fc.assert(
    fc.property(
      coxRows(),
      fc.constantFrom([-1000, 1], [1e6, 1000], [0.3, 1e-4], [0, -1]),
      (rows, [by, times]) => {
        const fit = fitCox(plain(rows));
        const shifted = fitCox({
          ...plain(rows),
          covariates: rows.covariates.map((x) => x.map((v) => v * times + by)),
        });
        expect(shifted.kind).toBe(fit.kind);
        if (fit.kind !== 'fitted' || shifted.kind !== 'fitted') return;
        for (const [j, one] of fit.coefficients.entries()) {
          const other = shifted.coefficients[j];
          if (one.kind === 'estimated' && other.kind === 'estimated')
            expect(Math.abs(other.coefficient * times - one.coefficient)).toBeLessThan(
              1e-6 * (1 + Math.abs(one.coefficient)),
            );
          else expect(other.kind).toBe(one.kind);
        }
        expect(shifted.logLikelihood).toBeCloseTo(fit.logLikelihood, 8);
      },
    ),
    runs,
  );
});

it('uses the order of the times only', () => {
  fc.assert(
    fc.property(coxRows(), ties, (rows, rule) => {
      const bent = {
        ...rows,
        timeDays: rows.timeDays.map((t) => t * t + 0.5),
        entryDays: rows.entryDays.map((t) => t * t + 0.5),
      };
      expectSame(numbersOf(bent, { ties: rule }), numbersOf(rows, { ties: rule }));
    }),
    runs,
  );
});

it('with weights of 1, one stratum, entries at 0, no offset and a cluster per row is the plain fit', () => {
  fc.assert(
    fc.property(coxRows(), ties, (rows, rule) => {
      const ones = rows.timeDays.map(() => 1);
      const zeros = rows.timeDays.map(() => 0);
      const dressed = { ...plain(rows), weights: ones, strata: ones, entryDays: zeros, offset: zeros };
      expectSame(numbersOf(dressed, { ties: rule }), numbersOf(plain(rows), { ties: rule }));
      const clustered = { ...plain(rows), cluster: rows.timeDays.map((_, i) => i) };
      expectSame(
        numbersOf(clustered, { ties: rule }),
        numbersOf(plain(rows), { ties: rule, variance: 'robust' }),
      );
    }),
    runs,
  );
});

it('takes whole weights for copies of rows with Breslow ties', () => {
  fc.assert(
    fc.property(coxRows(), (rows) => {
      const { offset, cluster, ...weighted } = rows;
      expect(offset.length).toBe(cluster.length);
      expectSame(numbersOf(weighted, { ties: 'breslow' }), numbersOf(replicated(rows), { ties: 'breslow' }));
    }),
    runs,
  );
});

it('does not take them for copies with Efron ties, where copies of an event are tied with one another', () => {
  fc.assert(
    fc.property(coxRows(), (rows) => {
      const { offset, cluster, ...weighted } = rows;
      expect(offset.length).toBe(cluster.length);
      const one = fitCox(weighted);
      const many = fitCox(replicated(rows));
      if (one.kind === 'notEstimable' || many.kind === 'notEstimable') return;
      const doubled = rows.event.some((event, i) => event === 1 && rows.weights[i] > 1);
      if (doubled) expect(many.nullLogLikelihood).toBeGreaterThan(one.nullLogLikelihood + 1e-9);
      else expect(many.nullLogLikelihood).toBeCloseTo(one.nullLogLikelihood, 9);
    }),
    runs,
  );
});

it('without ties has one fit by Efron and by Breslow, whose score test of a group is the log-rank test', () => {
  fc.assert(
    fc.property(coxRows(false), (rows) => {
      const group = rows.covariates[0];
      const data = { ...plain(rows), covariates: [group], strata: rows.strata, entryDays: rows.entryDays };
      expectSame(numbersOf(data), numbersOf(data, { ties: 'breslow' }));
      const fit = fitCox(data);
      const { timeDays, event, strata, entryDays } = data;
      const logRank = testLogRank({ timeDays, event, group, strata, entryDays });
      if (fit.kind === 'notEstimable') {
        expect(logRank.kind).toBe('notEstimable');
        return;
      }
      expect(fit.score.chiSquare).toBeCloseTo(estimated(logRank).chiSquare, 9);
      expect(fit.score.degreesOfFreedom).toBe(1);
    }),
    runs,
  );
});

it('from counts is the fit with a column of 0 and 1 for each other group, in days and in fractions of days', () => {
  fc.assert(
    fc.property(coxRows(), ties, fc.boolean(), fc.constantFrom(1, 0.1), (rows, rule, stratified, scale) => {
      const group = rows.covariates[1].map((marker) => Math.abs(marker) % 3);
      const timeDays = rows.timeDays.map((t) => t * scale);
      const strata = stratified ? { strata: rows.strata } : {};
      const columns = [0, 1].map((g) => group.map((one) => Number(one === g)));
      const plainFit = fitCox(
        { timeDays, event: rows.event, covariates: columns, ...strata },
        { ties: rule },
      );
      const counted = fitCoxByGroup(
        { timeDays, event: rows.event, group, ...strata },
        { ties: rule, reference: 2, groupCount: 3 },
      );
      expect(counted.kind).toBe(plainFit.kind);
      if (counted.kind === 'notEstimable' || plainFit.kind === 'notEstimable') return;
      expect(counted).toMatchObject({ n: plainFit.n, eventTotal: plainFit.eventTotal, ties: rule });
      expect(counted.logLikelihood).toBeCloseTo(plainFit.logLikelihood, 8);
      expect(counted.nullLogLikelihood).toBeCloseTo(plainFit.nullLogLikelihood, 8);
      expect(counted.score.chiSquare).toBeCloseTo(plainFit.score.chiSquare, 8);
      for (const [j, one] of counted.coefficients.entries()) {
        const other = plainFit.coefficients[j];
        if (one.kind === 'notEstimable') continue;
        expect(other.kind).toBe(one.kind);
        if (one.kind !== 'estimated' || other.kind !== 'estimated') continue;
        expect(one.coefficient).toBeCloseTo(other.coefficient, 7);
        if (one.interval.kind === 'estimated' && other.interval.kind === 'estimated')
          expect(one.interval.standardError).toBeCloseTo(other.interval.standardError, 7);
      }
    }),
    runs,
  );
});

it('has one limit whether entries are left out or all at 0, where the likelihood has no maximum', () => {
  fc.assert(
    fc.property(coxRows(), ties, fc.boolean(), (rows, rule, stratified) => {
      const { timeDays, covariates } = rows;
      // Nobody of the first arm has the event.
      const event = rows.event.map((one, i) => (covariates[0][i] === 0 ? 0 : one));
      const data = { timeDays, event, covariates, ...(stratified ? { strata: rows.strata } : {}) };
      const all = numbersOf({ ...data, entryDays: timeDays.map(() => 0) }, { ties: rule });
      expectSame(all, numbersOf(data, { ties: rule }), 1e-7);
    }),
    runs,
  );
});

it('adds the likelihoods of strata', () => {
  fc.assert(
    fc.property(coxRows(), ties, (rows, rule) => {
      const twice = {
        timeDays: [...rows.timeDays, ...rows.timeDays.map((t) => 3 * t)],
        event: [...rows.event, ...rows.event],
        covariates: rows.covariates.map((x) => [...x, ...x.map((v) => v + 7)]),
        strata: [...rows.event.map(() => 4), ...rows.event.map(() => 1)],
      };
      const once = fitCox(plain(rows), { ties: rule });
      const both = fitCox(twice, { ties: rule });
      expect(both.kind).toBe(once.kind);
      if (once.kind === 'notEstimable' || both.kind === 'notEstimable') return;
      expect(both.logLikelihood).toBeCloseTo(2 * once.logLikelihood, 8);
      expect(both.score.chiSquare).toBeCloseTo(2 * once.score.chiSquare, 8);
      for (const [j, one] of once.coefficients.entries()) {
        const other = both.coefficients[j];
        if (one.kind === 'estimated' && other.kind === 'estimated')
          expect(other.coefficient).toBeCloseTo(one.coefficient, 7);
      }
    }),
    runs,
  );
});

it('has its maximum where no small step leads higher', () => {
  fc.assert(
    fc.property(coxRows(), ties, (rows, rule) => {
      const fit = fitCox(rows, { ties: rule });
      if (fit.kind !== 'fitted') return;
      const eta = rows.timeDays.map((_, i) =>
        fit.coefficients.reduce(
          (sum, one, j) => sum + (one.kind === 'estimated' ? one.coefficient * rows.covariates[j][i] : 0),
          rows.offset[i],
        ),
      );
      // The fit as an offset: the null model is at the maximum, its score zero, and nothing is left to fit.
      const again = fitCox({ ...rows, offset: eta }, { ties: rule });
      if (again.kind !== 'fitted') throw new Error(again.kind);
      expect(again.nullLogLikelihood).toBeCloseTo(fit.logLikelihood, 8);
      expect(again.score.chiSquare).toBeLessThan(1e-12);
    }),
    runs,
  );
});

it('has score tests, likelihoods and standard errors of the right sign, whatever the data', () => {
  fc.assert(
    fc.property(coxRows(), ties, (rows, rule) => {
      const fit = fitCox(rows, { ties: rule });
      if (fit.kind === 'notEstimable') return;
      expect(fit.logLikelihood).toBeGreaterThanOrEqual(fit.nullLogLikelihood - 1e-9);
      for (const test of [fit.likelihoodRatio, fit.score]) {
        expect(test.chiSquare).toBeGreaterThanOrEqual(0);
        expect(test.pValue).toBeLessThanOrEqual(1);
      }
      for (const one of fit.coefficients) {
        if (one.kind !== 'estimated' || one.interval.kind !== 'estimated') continue;
        expect(one.interval.standardError).toBeGreaterThan(0);
        expect(one.interval.lower).toBeLessThan(one.hazardRatio);
        expect(one.interval.upper).toBeGreaterThan(one.hazardRatio);
      }
    }),
    runs,
  );
});

it('has residuals that sum to nothing when weighted, in each stratum', () => {
  fc.assert(
    fc.property(coxRows(), ties, (rows, rule) => {
      const fit = fitCox(rows, { ties: rule });
      if (fit.kind !== 'fitted') return;
      const martingale = deriveMartingaleResiduals(rows, fit);
      for (const stratum of [0, 1]) {
        let sum = 0;
        for (const [i, residual] of martingale.entries())
          if (rows.strata[i] === stratum) sum += rows.weights[i] * residual;
        expect(sum).toBeCloseTo(0, 9);
      }
      const { rows: events, residuals } = deriveSchoenfeldResiduals(rows, fit);
      const size = fit.estimated.length;
      for (let j = 0; j < size; j += 1) {
        const sum = Array.from(events).reduce(
          (so, row, k) => so + rows.weights[row] * residuals[k * size + j],
          0,
        );
        expect(sum).toBeCloseTo(0, 7);
      }
      expect(events).toHaveLength(fit.eventTotal);
    }),
    runs,
  );
});

it('has a baseline that is Nelson-Aalen when the coefficient is 0', () => {
  fc.assert(
    fc.property(coxRows(), ties, (rows, rule) => {
      // Each row once with x = 0 and once with x = 1: nothing to tell apart.
      const both = {
        timeDays: [...rows.timeDays, ...rows.timeDays],
        event: [...rows.event, ...rows.event],
        covariates: [[...rows.event.map(() => 0), ...rows.event.map(() => 1)]],
      };
      const fit = fitCox(both, { ties: rule });
      if (fit.kind !== 'fitted') return;
      const nelson = estimateNelsonAalen(both, { ties: rule === 'efron' ? 'one-by-one' : 'together' });
      const curve = estimated(estimateCoxCurve(both, fit, { covariates: [0] })[0]);
      const at = Array.from(nelson.timeDays).flatMap((time, k) =>
        curve.timeDays.includes(time) ? [nelson.cumulativeHazard[k]] : [],
      );
      expect(at).toHaveLength(curve.timeDays.length);
      for (const [k, hazard] of at.entries()) expect(curve.cumulativeHazard[k]).toBeCloseTo(hazard, 9);
      const adjusted = estimated(estimateAdjustedCoxCurve(both, fit)[0]);
      for (const [k, survival] of curve.survival.entries())
        expect(adjusted.survival[k]).toBeCloseTo(survival, 9);
    }),
    runs,
  );
});

it('has curves that fall, between their limits, and an adjusted one between the lowest and the highest', () => {
  fc.assert(
    fc.property(coxRows(), (rows) => {
      const fit = fitCox(rows);
      if (fit.kind !== 'fitted') return;
      const curves = rows.timeDays.map((_, i) =>
        estimateCoxCurve(rows, fit, { covariates: rows.covariates.map((x) => x[i]), offset: rows.offset[i] }),
      );
      for (const [s, found] of estimateAdjustedCoxCurve(rows, fit).entries()) {
        const adjusted = estimated(found);
        for (const [t, survival] of adjusted.survival.entries()) {
          const each = curves.map((one) => estimated(one[s]).survival[t]);
          expect(survival).toBeGreaterThanOrEqual(Math.min(...each) - 1e-12);
          expect(survival).toBeLessThanOrEqual(Math.max(...each) + 1e-12);
          if (t > 0) expect(survival).toBeLessThanOrEqual(adjusted.survival[t - 1]);
        }
      }
      const [first] = curves[0].map((one) => estimated(one));
      if (first.interval.kind !== 'estimated') return;
      for (const [t, survival] of first.survival.entries()) {
        expect(first.interval.lower[t]).toBeLessThanOrEqual(survival);
        expect(first.interval.upper[t]).toBeGreaterThanOrEqual(survival);
      }
    }),
    { numRuns: 25 },
  );
});

it('tests proportional hazards alike for g, a + c g, and rows in any order', () => {
  fc.assert(
    fc.property(coxRows(), ties, (rows, rule) => {
      const fit = fitCox(rows, { ties: rule });
      const moved = {
        ...rows,
        timeDays: rows.timeDays.map((t) => 5 * t + 3),
        entryDays: rows.entryDays.map((t) => 5 * t + 3),
      };
      const other = fitCox(moved, { ties: rule });
      const back = fitCox(reversedRows(rows), { ties: rule });
      if (fit.kind !== 'fitted' || other.kind !== 'fitted' || back.kind !== 'fitted') return;
      for (const transform of ['identity', 'km', 'rank'] as const) {
        const test = testProportionalHazards(rows, fit, { transform });
        const found = [
          testProportionalHazards(moved, other, { transform }),
          testProportionalHazards(reversedRows(rows), back, { transform }),
        ];
        for (const { global, covariates } of found) {
          expect(global.kind).toBe(test.global.kind);
          if (global.kind !== 'tested' || test.global.kind !== 'tested') continue;
          expect(global.chiSquare).toBeCloseTo(test.global.chiSquare, 6);
          expect(global.chiSquare).toBeGreaterThanOrEqual(
            -1e-9 +
              Math.max(...covariates.map((one) => (one.kind === 'tested' ? one.chiSquare : 0))) * (1 - 1e-7),
          );
        }
      }
    }),
    { numRuns: 30 },
  );
});

/** Every pair looked at by itself. */
function pairByPair({ timeDays, event, entryDays, strata, weights, offset: marker }: CoxRows) {
  const counts = { concordant: 0, discordant: 0, tiedMarker: 0, tiedTime: 0, tiedBoth: 0 };
  for (const i of timeDays.keys()) {
    for (const j of timeDays.keys()) {
      if (i === j || event[i] !== 1 || strata[i] !== strata[j]) continue;
      const weight = weights[i] * weights[j];
      const later = timeDays[j] > timeDays[i] || (timeDays[j] === timeDays[i] && event[j] === 0);
      if (later && entryDays[j] < timeDays[i]) {
        const key =
          marker[i] === marker[j] ? 'tiedMarker' : marker[i] > marker[j] ? 'concordant' : 'discordant';
        counts[key] += weight;
      }
      if (i < j && event[j] === 1 && timeDays[i] === timeDays[j])
        counts[marker[i] === marker[j] ? 'tiedBoth' : 'tiedTime'] += weight;
    }
  }
  return counts;
}

it('counts concordant pairs of rows with entries and strata as if every pair were looked at', () => {
  fc.assert(
    fc.property(coxRows(), (rows) => {
      const { covariates, offset: marker, ...columns } = rows;
      expect(covariates).toHaveLength(2);
      const counts = pairByPair(rows);
      const found = estimateConcordance({ ...columns, marker });
      if (found.kind === 'estimated') expect(found).toMatchObject(counts);
      else expect(counts.concordant + counts.discordant + counts.tiedMarker).toBe(0);
    }),
  );
});
