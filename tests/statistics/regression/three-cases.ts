import type { CoxFit, CoxMonotone, NotEstimable } from '@/lib/statistics';

/**
 * Three cases whose fit is exact: with x = 1 an event on day 1 and a censoring on day 3, with x = 0 an event on day 2. With
 * r = exp(b) the likelihood is r / ((2r + 1)(1 + r)), largest at r = 1/root 2.
 */
export const threeCases = { timeDays: [1, 2, 3], event: [1, 1, 0], covariates: [[1, 0, 1]] };

export const ROOT = Math.SQRT2;

/** The fit; throws why there is none. */
export function fitted(found: CoxFit | CoxMonotone | NotEstimable): CoxFit {
  if (found.kind === 'fitted') return found;
  throw new Error(`not fitted: ${found.reason}`);
}

export function monotone(found: CoxFit | CoxMonotone | NotEstimable): CoxMonotone {
  if (found.kind === 'monotone') return found;
  throw new Error(`not monotone: ${JSON.stringify(found)}`);
}

/** The coefficients; throws for one without an estimate. */
export function coefficientsOf(fit: CoxFit | CoxMonotone): number[] {
  return fit.coefficients.map((found) => {
    if (found.kind === 'estimated') return found.coefficient;
    throw new Error(`no coefficient: ${JSON.stringify(found)}`);
  });
}
