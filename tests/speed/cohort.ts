import { RandomStream } from '../../seed/random';

export const SEED = 20_261_125;
export const GROUPS = 8;
export const LONGEST_DAYS = 3650;
export const COVARIATES = 6;
const LOOK_DAYS = 90;

/** Columns of one invented cohort; R reads the same ones under the same names, the covariates as x1 to x6. */
export type SpeedCohort = {
  readonly n: number;
  /** Whole days, 0 to LONGEST_DAYS. */
  readonly timeDays: Int32Array;
  readonly event: Uint8Array;
  /** 0 censored, 1 the event, 2 a competing one. */
  readonly status: Uint8Array;
  readonly group: Uint8Array;
  /** The event between two looks, 90 days apart: after leftDays, up to rightDays (infinite when it was not seen). */
  readonly leftDays: Float64Array;
  readonly rightDays: Float64Array;
  readonly covariates: readonly Float64Array[];
  /** A yes or no that hangs on the covariates, for regressions and weights. */
  readonly treated: Uint8Array;
};

/** Exponential times whose hazard hangs on group and covariates, cut at a uniform end of follow-up. */
export function makeCohort(n: number): SpeedCohort {
  const random = new RandomStream([SEED, n, 1, 2]);
  const covariates = Array.from({ length: COVARIATES }, () => new Float64Array(n));
  const cohort = {
    n,
    timeDays: new Int32Array(n),
    event: new Uint8Array(n),
    status: new Uint8Array(n),
    group: new Uint8Array(n),
    leftDays: new Float64Array(n),
    rightDays: new Float64Array(n),
    covariates,
    treated: new Uint8Array(n),
  };
  for (let i = 0; i < n; i += 1) {
    let score = 0;
    for (let k = 0; k < COVARIATES; k += 1) {
      covariates[k][i] = k < 3 ? random.between(-1.7, 1.7) : random.uniform() < 0.3 ? 1 : 0;
      score += (k % 2 === 0 ? 0.2 : -0.15) * covariates[k][i];
    }
    const group = random.next() % GROUPS;
    const scale = 3000 * Math.exp(0.05 * group - score);
    const first = -scale * Math.log(random.uniform());
    const competing = -9000 * Math.log(random.uniform());
    const end = random.between(0, LONGEST_DAYS + 1);
    cohort.group[i] = group;
    cohort.timeDays[i] = Math.floor(Math.min(first, competing, end));
    cohort.status[i] = first <= Math.min(competing, end) ? 1 : competing <= end ? 2 : 0;
    cohort.event[i] = cohort.status[i] === 1 ? 1 : 0;
    cohort.treated[i] = random.uniform() < 1 / (1 + Math.exp(-score)) ? 1 : 0;
    const firstLook = 1 + ((37 * i) % LOOK_DAYS);
    const later = LOOK_DAYS * Math.ceil((cohort.timeDays[i] - firstLook) / LOOK_DAYS);
    const nextLook = firstLook + Math.max(0, later);
    cohort.leftDays[i] = Math.max(0, nextLook - LOOK_DAYS);
    cohort.rightDays[i] = cohort.event[i] === 1 ? nextLook : Number.POSITIVE_INFINITY;
  }
  return cohort;
}
