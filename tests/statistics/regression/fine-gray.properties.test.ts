import fc from 'fast-check';
import { expect, it } from 'vitest';
import { deriveFineGrayIncidence, type FineGrayFit, fitCox, fitFineGray } from '@/lib/statistics';

type Rows = { readonly timeDays: number[]; readonly status: number[]; readonly covariates: number[][] };

const rows: fc.Arbitrary<Rows> = fc
  .array(
    fc.record({
      day: fc.integer({ min: 1, max: 25 }),
      status: fc.integer({ min: 0, max: 2 }),
      arm: fc.integer({ min: 0, max: 1 }),
      size: fc.integer({ min: -20, max: 20 }),
    }),
    { minLength: 15, maxLength: 60 },
  )
  .map((list) => ({
    timeDays: list.map(({ day }) => day),
    status: list.map(({ status }) => status),
    covariates: [list.map(({ arm }) => arm), list.map(({ size }) => size / 10)],
  }));

const RUNS = { numRuns: 60 };

/** The coefficients where all are there and none is beyond sense; what grows nearly without end has few digits. */
function coefficientsOf(
  fit: ReturnType<typeof fitFineGray> | ReturnType<typeof fitCox>,
): number[] | undefined {
  if (fit.kind !== 'fitted') return undefined;
  const found = fit.coefficients.flatMap((one) => (one.kind === 'estimated' ? [one.coefficient] : []));
  return found.length === 2 && found.every((value) => Math.abs(value) < 8) ? found : undefined;
}

function close(got: readonly number[] | undefined, want: readonly number[] | undefined, digits = 7): void {
  expect(got?.length).toBe(want?.length);
  for (const [j, value] of (want ?? []).entries()) expect(got?.[j]).toBeCloseTo(value, digits);
}

it('does not depend on the order of the rows or of the covariates', () => {
  fc.assert(
    fc.property(rows, (data) => {
      const fit = fitFineGray(data);
      const turned = fitFineGray({
        timeDays: data.timeDays.toReversed(),
        status: data.status.toReversed(),
        covariates: data.covariates.map((column) => column.toReversed()),
      });
      close(coefficientsOf(turned), coefficientsOf(fit));
      const swapped = fitFineGray({ ...data, covariates: data.covariates.toReversed() });
      close(coefficientsOf(swapped)?.toReversed(), coefficientsOf(fit));
    }),
    RUNS,
  );
});

it('follows covariates moved and stretched, and feels only the order of times', () => {
  fc.assert(
    fc.property(rows, (data) => {
      const fit = fitFineGray(data);
      const [arm, size] = data.covariates;
      const other = fitFineGray({
        ...data,
        timeDays: data.timeDays.map((day) => day ** 2 / 3),
        covariates: [arm, size.map((value) => 1000 + 4 * value)],
      });
      const found = coefficientsOf(fit);
      if (!found) return;
      close(
        coefficientsOf(other)?.map((value, j) => (j === 1 ? 4 * value : value)),
        found,
      );
      if (fit.kind !== 'fitted' || other.kind !== 'fitted') return;
      expect(other.logLikelihood).toBeCloseTo(fit.logLikelihood, 8);
      expect(other.covariance[3] * 16).toBeCloseTo(fit.covariance[3], 6);
    }),
    RUNS,
  );
});

it('without other causes is the Cox model with Breslow ties and robust variance', () => {
  fc.assert(
    fc.property(rows, ({ timeDays, status, covariates }) => {
      const event = status.map((code) => Math.min(1, code));
      const fit = fitFineGray({ timeDays, status: event, covariates });
      const cox = fitCox({ timeDays, event, covariates }, { ties: 'breslow', variance: 'robust' });
      close(coefficientsOf(fit), coefficientsOf(cox));
      if (!coefficientsOf(fit) || fit.kind !== 'fitted' || cox.kind !== 'fitted') return;
      expect(fit.logLikelihood).toBeCloseTo(cox.logLikelihood, 8);
      if (cox.covariance instanceof Float64Array)
        close(Array.from(fit.covariance), Array.from(cox.covariance), 6);
    }),
    RUNS,
  );
});

it('without censoring is the Cox model in which who had another cause stays to the end', () => {
  fc.assert(
    fc.property(rows, ({ timeDays, status, covariates }) => {
      const causes = status.map((code) => Math.max(1, code));
      const fit = fitFineGray({ timeDays, status: causes, covariates });
      const stay = fitCox(
        {
          timeDays: timeDays.map((day, i) => (causes[i] === 1 ? day : 99)),
          event: causes.map((code) => (code === 1 ? 1 : 0)),
          covariates,
        },
        { ties: 'breslow' },
      );
      expect(fit.kind).toBe(stay.kind);
      close(coefficientsOf(fit), coefficientsOf(stay));
    }),
    RUNS,
  );
});

it('predicts incidences that rise from 0 towards 1, higher where the linear predictor is', () => {
  const incidence = (fit: FineGrayFit, x: number[]): number[] =>
    Array.from(deriveFineGrayIncidence(fit, x, [0, 5, 10, 20, 40]));
  fc.assert(
    fc.property(rows, (data) => {
      const fit = fitFineGray(data);
      const found = coefficientsOf(fit);
      if (!found || fit.kind !== 'fitted') return;
      const low = incidence(fit, [0, 0]);
      const high = incidence(fit, found.map(Math.sign));
      expect(low[0]).toBe(0);
      for (const [i, value] of low.entries()) {
        expect(value).toBeGreaterThanOrEqual(i > 0 ? low[i - 1] : 0);
        expect(value).toBeLessThanOrEqual(high[i] + 1e-12);
        expect(high[i]).toBeLessThanOrEqual(1);
      }
    }),
    RUNS,
  );
});
