import {
  type CoxFit,
  type CoxMonotone,
  fitCox,
  fitCoxByGroup,
  fitLogisticRegression,
  type NotEstimable,
} from '@/lib/statistics';
import { COVARIATES, GROUPS, type SpeedCohort } from './cohort';
import { type SpeedRow, speedRow } from './speed-row';

/** R stops earlier than it can: its numbers, not its time, come from a fit to the last digits. */
const TIGHT = 'coxph.control(eps = 1e-13, toler.chol = 1e-15)';

function readCovariates({ timeDays, event, covariates }: SpeedCohort): number {
  const [a, b, c, d, e, f] = covariates;
  let sum = 0;
  for (let i = 0; i < timeDays.length; i += 1)
    sum += timeDays[i] + event[i] + a[i] + b[i] + c[i] + d[i] + e[i] + f[i];
  return sum;
}

function readCovariatesAndTreated({ treated, covariates }: SpeedCohort): number {
  const [a, b, c, d, e, f] = covariates;
  let sum = 0;
  for (let i = 0; i < treated.length; i += 1) sum += treated[i] + a[i] + b[i] + c[i] + d[i] + e[i] + f[i];
  return sum;
}

function readGroups({ timeDays, event, group }: SpeedCohort): number {
  let sum = 0;
  for (let i = 0; i < timeDays.length; i += 1) sum += timeDays[i] + event[i] + group[i];
  return sum;
}

/** Coefficients, then standard errors. */
function numbersOf(fit: CoxFit | CoxMonotone | NotEstimable): number[] {
  if (fit.kind !== 'fitted') return [];
  const coefficients = fit.coefficients.flatMap((one) => (one.kind === 'estimated' ? [one] : []));
  return [
    ...coefficients.map(({ coefficient }) => coefficient),
    ...coefficients.flatMap(({ interval }) =>
      interval.kind === 'estimated' ? [interval.standardError] : [],
    ),
  ];
}

const NAMES = Array.from({ length: COVARIATES }, (_, k) => `x${k + 1}`).join(' + ');

const cox = (formula: string): SpeedRow['r'] => ({
  packages: ['survival'],
  call: `coxph(Surv(timeDays, event) ~ ${formula})`,
  numbers: `with(coxph(Surv(timeDays, event) ~ ${formula}, control = ${TIGHT}), c(coefficients, sqrt(diag(var))))`,
});

export const REGRESSION_ROWS: readonly SpeedRow[] = [
  speedRow({
    name: 'Cox Efron, 1 factor',
    library: ({ timeDays, event, group }) =>
      fitCoxByGroup({ timeDays, event, group }, { groupCount: GROUPS }),
    bare: readGroups,
    numbers: numbersOf,
    r: cox('factor(group)'),
    // Where R stops is told by the likelihood, whose last digits are lost among a million rows.
    agreement: 1e-8,
    target: { timesFasterThanR: 60 },
  }),
  speedRow({
    name: 'Cox Efron, 6 covariates',
    library: ({ timeDays, event, covariates }) => fitCox({ timeDays, event, covariates }),
    bare: readCovariates,
    numbers: numbersOf,
    r: cox(NAMES),
    agreement: 1e-9,
    target: { timesFasterThanR: 20 },
  }),
  speedRow({
    name: 'logistic, 6 covariates',
    library: ({ treated, covariates }) => fitLogisticRegression({ outcome: treated, covariates }),
    bare: readCovariatesAndTreated,
    numbers: (fit) => {
      if (fit.kind !== 'fitted') return [];
      const terms = [
        fit.intercept,
        ...fit.terms.flatMap((term) => (term.kind === 'estimated' ? [term] : [])),
      ];
      return [
        ...terms.map(({ coefficient }) => coefficient),
        ...terms.map(({ standardError }) => standardError),
      ];
    },
    r: {
      packages: [],
      call: `glm(treated ~ ${NAMES}, family = binomial())`,
      numbers: `with(summary(glm(treated ~ ${NAMES}, family = binomial(), epsilon = 1e-14, maxit = 50)),
        c(coefficients[, 1], coefficients[, 2]))`,
    },
    // R stops once the deviance moves by 1e-14 of itself: for a million rows a ten thousandth of a standard error short.
    agreement: 1e-6,
    target: { timesFasterThanR: 50 },
  }),
];
