import {
  deriveBalancingWeights,
  estimateSurvivalByBootstrap,
  estimateWeightedKaplanMeierByGroup,
  fitLogisticRegression,
} from '@/lib/statistics';
import { COVARIATES, type SpeedCohort } from './cohort';
import { type SpeedRow, speedRow } from './speed-row';

/** Where the bootstrap reads its curves. */
const HORIZON_DAYS = 365;
const BOOTSTRAP_SEED = 7;
const REPLICATES = 2000;
const NAMES = Array.from({ length: COVARIATES }, (_, k) => `x${k + 1}`).join(' + ');

/** What a comparison of two strategies asks for: a propensity score, overlap weights, the two weighted curves. */
function weightedCurves({ timeDays, event, treated, covariates }: SpeedCohort) {
  const fit = fitLogisticRegression({ outcome: treated, covariates });
  if (fit.kind !== 'fitted') throw new Error(fit.reason);
  const balanced = deriveBalancingWeights({ treated, propensity: fit.fitted }, { estimand: 'overlap' });
  if (balanced.kind !== 'derived') throw new Error(balanced.reason);
  return estimateWeightedKaplanMeierByGroup(
    { timeDays, event, group: treated, weights: balanced.weights },
    { groupCount: 2 },
  );
}

const readAll = ({ timeDays, event, treated, covariates }: SpeedCohort): number => {
  const [a, b, c, d, e, f] = covariates;
  let sum = 0;
  for (let i = 0; i < timeDays.length; i += 1)
    sum += timeDays[i] + event[i] + treated[i] + a[i] + b[i] + c[i] + d[i] + e[i] + f[i];
  return sum;
};

const bootstrap = { seed: BOOTSTRAP_SEED, replicates: REPLICATES };

/** Replicates differ from run to run, so their mean and spread are held against the curve and its Greenwood error. */
const bootstrapRow = (way: string, call: string, slow: boolean, timesFasterThanR: number): SpeedRow =>
  speedRow({
    name: `bootstrap of KM, ${REPLICATES} replicates, R ${way}`,
    atMost: 10_000,
    library: ({ timeDays, event }) =>
      estimateSurvivalByBootstrap({ timeDays, event }, [HORIZON_DAYS], bootstrap),
    bare: ({ timeDays, event }) => {
      let sum = 0;
      for (let i = 0; i < timeDays.length; i += 1) sum += timeDays[i] + event[i];
      return sum;
    },
    numbers: ([found]) => (found.kind === 'estimated' ? [found.mean, found.standardError] : []),
    r: {
      packages: ['survival'],
      call,
      numbers: `with(summary(survfit(Surv(timeDays, event) ~ 1), times = ${HORIZON_DAYS}), c(surv, std.err))`,
      ...(slow ? { slow: true } : {}),
    },
    // The spread of 2000 replicates is known to 1/sqrt(4000), 1.6 %; three times that.
    agreement: 0.05,
    target: { timesFasterThanR },
  });

export const WEIGHTING_ROWS: readonly SpeedRow[] = [
  speedRow({
    name: 'propensity + weighted KM + robust SE',
    library: weightedCurves,
    bare: readAll,
    numbers: (curves) => [
      ...curves.flatMap(({ survival }) => Array.from(survival)),
      ...curves.flatMap(({ standardError }) => Array.from(standardError)),
    ],
    r: {
      packages: ['survival'],
      call: `{ score <- fitted(glm(treated ~ ${NAMES}, family = binomial(), epsilon = 1e-14, maxit = 50));
        survfit(Surv(timeDays, event) ~ treated, weights = ifelse(treated == 1, 1 - score, score), robust = TRUE) }`,
      // Of the survival itself here, not of its logarithm.
      numbers: 'with(result, c(surv, std.err))',
    },
    agreement: 1e-9,
    target: { timesFasterThanR: 150 },
  }),
  bootstrapRow(
    'by rmultinom',
    `{ cell <- table(timeDays, event); drawn <- rmultinom(${REPLICATES}, length(timeDays), c(cell)); days <- nrow(cell);
      censored <- drawn[1:days, ]; events <- drawn[days + 1:days, ]; leaving <- censored + events;
      risk <- length(timeDays) - rbind(0, apply(leaving, 2, cumsum)[-days, ]);
      keep <- as.numeric(rownames(cell)) <= ${HORIZON_DAYS};
      apply(1 - ifelse(risk[keep, ] > 0, events[keep, ] / risk[keep, ], 0), 2, prod) }`,
    false,
    30,
  ),
  bootstrapRow(
    'by survfit of drawn rows',
    `replicate(${REPLICATES}, { drawn <- sample.int(length(timeDays), replace = TRUE);
      summary(survfit(Surv(timeDays[drawn], event[drawn]) ~ 1), times = ${HORIZON_DAYS}, extend = TRUE)$surv })`,
    true,
    250,
  ),
];
