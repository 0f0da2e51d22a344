import {
  estimateCumulativeIncidenceByGroup,
  estimateKaplanMeierByGroup,
  estimateRestrictedMean,
  estimateTurnbull,
  testLogRank,
} from '@/lib/statistics';
import { GROUPS, type SpeedCohort } from './cohort';
import { type SpeedRow, speedRow } from './speed-row';

const HORIZON_DAYS = 3000;
const options = { groupCount: GROUPS };
const survivalPackage = ['survival'];

function readThree(first: Int32Array, second: Uint8Array, third: Uint8Array): number {
  let sum = 0;
  for (let i = 0; i < first.length; i += 1) sum += first[i] + second[i] + third[i];
  return sum;
}

const readSurvival = ({ timeDays, event, group }: SpeedCohort): number => readThree(timeDays, event, group);

/** Curve after curve, as R lists its strata. */
const listed = <T>(curves: readonly T[], columns: (curve: T) => Float64Array[]): number[] => {
  const perCurve = curves.map(columns);
  return perCurve[0].flatMap((_, k) => perCurve.flatMap((one) => Array.from(one[k])));
};

/** Limits where a curve has them, NaN elsewhere: R prints a number or none as it happens. */
function within(column: Float64Array, from: number, to: number, length: number): Float64Array {
  const whole = new Float64Array(length).fill(Number.NaN);
  whole.set(column.subarray(from, to), from);
  return whole;
}

export const SURVIVAL_ROWS: readonly SpeedRow[] = [
  speedRow({
    name: 'KM + SE + limits',
    library: ({ timeDays, event, group }) => estimateKaplanMeierByGroup({ timeDays, event, group }, options),
    bare: readSurvival,
    numbers: (curves) =>
      listed(curves, ({ survival, standardError, lower, upper, intervalFrom, intervalTo }) => [
        survival,
        ...[standardError, lower, upper].map((column) =>
          within(column, intervalFrom, intervalTo, survival.length),
        ),
      ]),
    r: {
      packages: survivalPackage,
      call: 'survfit(Surv(timeDays, event) ~ group, conf.type = "log-log")',
      numbers: 'with(result, c(surv, surv * std.err, lower, upper))',
    },
    agreement: 1e-10,
    target: { timesFasterThanR: 200, timesBare: 6 },
  }),
  speedRow({
    name: 'log-rank',
    library: ({ timeDays, event, group }) => testLogRank({ timeDays, event, group }, options),
    bare: readSurvival,
    numbers: (test) =>
      test.kind === 'notEstimable'
        ? []
        : [
            test.chiSquare,
            ...test.groups.map(({ observed }) => observed),
            ...test.groups.map(({ expected }) => expected),
            ...test.covariance,
          ],
    r: {
      packages: survivalPackage,
      call: 'survdiff(Surv(timeDays, event) ~ group)',
      numbers: 'with(result, c(chisq, obs, exp, var))',
    },
    agreement: 1e-10,
    target: { timesFasterThanR: 200, timesBare: 5 },
  }),
  speedRow({
    name: 'RMST',
    library: ({ timeDays, event, group }) =>
      estimateKaplanMeierByGroup({ timeDays, event, group }, options).map((curve) =>
        estimateRestrictedMean(curve, HORIZON_DAYS),
      ),
    bare: readSurvival,
    numbers: (means) => {
      const estimated = means.flatMap((mean) => (mean.kind === 'estimated' ? [mean] : []));
      return [
        ...estimated.map(({ meanDays }) => meanDays),
        ...estimated.map(({ variance }) => Math.sqrt(variance)),
      ];
    },
    r: {
      packages: survivalPackage,
      call: `survival:::survmean(survfit(Surv(timeDays, event) ~ group), rmean = ${HORIZON_DAYS})$matrix`,
      numbers: 'c(result[, "rmean"], result[, "se(rmean)"])',
    },
    agreement: 1e-10,
    target: { timesFasterThanR: 200 },
  }),
  ...(['without', 'with'] as const).map((errors) =>
    speedRow({
      name: `Aalen-Johansen + SE, R ${errors} SE`,
      library: ({ timeDays, status, group }) =>
        estimateCumulativeIncidenceByGroup({ timeDays, status, group }, { ...options, causeCount: 2 }),
      bare: ({ timeDays, status, group }) => readThree(timeDays, status, group),
      numbers: (estimates) =>
        listed(estimates, ({ causes }) => [
          ...causes.map(({ incidence }) => incidence),
          ...(errors === 'with' ? causes.map(({ standardError }) => standardError) : []),
        ]),
      r: {
        packages: survivalPackage,
        call: `survfit(Surv(timeDays, factor(status)) ~ group, se.fit = ${errors === 'with' ? 'TRUE' : 'FALSE'})`,
        numbers: `with(result, c(pstate[, 2:3]${errors === 'with' ? ', std.err[, 2:3]' : ''}))`,
        ...(errors === 'with' ? { slow: true } : {}),
      },
      agreement: 1e-10,
      target: errors === 'with' ? {} : { timesFasterThanR: 500 },
    }),
  ),
  speedRow({
    name: 'Turnbull',
    atMost: 10_000,
    library: ({ leftDays, rightDays }) => estimateTurnbull({ leftDays, rightDays }),
    bare: ({ leftDays, rightDays }) => {
      let sum = 0;
      for (let i = 0; i < leftDays.length; i += 1) sum += leftDays[i] + rightDays[i];
      return sum;
    },
    numbers: (found) => (found.kind === 'estimated' ? [found.logLikelihood] : []),
    r: {
      packages: survivalPackage,
      call: `survfit(Surv(replace(leftDays, leftDays == 0, NA), replace(rightDays, rightDays == Inf, NA),
        type = "interval2") ~ 1)`,
      // R's steps stand in the middle of their intervals, a last one without an end at its beginning: look just before.
      numbers: `{ curve <- stepfun(result$time + 0.25, c(1, result$surv));
        sum(log(curve(leftDays) - ifelse(rightDays == Inf, 0, curve(rightDays)))) }`,
      slow: true,
    },
    // R stops once its curve moves by less than 5e-5, short of the maximum; the library's likelihood is the higher one.
    agreement: 5e-3,
    target: { timesFasterThanR: 5000 },
  }),
];
