import { type NotEstimable, notEstimable } from '../absence';
import { countBefore } from '../survival/equal-times';
import { estimateKaplanMeier, type SurvivalData } from '../survival/kaplan-meier';
import { factorSymmetric, inverseQuadratic, type SymmetricFactor, solveSymmetric } from './cholesky';
import { averageRanks } from './cox-average-ranks';
import type { CoxData } from './cox-data';
import { restoreCox } from './cox-restore';
import { type CoxFit, type CoxTest, testedBy } from './cox-result';
import type { RiskSets } from './cox-risk-sets';
import { sumOverEvents } from './cox-sums';

export type TimeTransform = 'km' | 'rank' | 'identity' | 'log';

export type ProportionalHazardsTest = {
  readonly transform: TimeTransform;
  /** One per covariate. */
  readonly covariates: readonly (CoxTest | NotEstimable)[];
  /** All estimated covariates together. */
  readonly global: CoxTest | NotEstimable;
};

/**
 * Tests whether hazard ratios stay the same over time.
 *
 * Estimand: the hypothesis that covariate j has no term g(t) x_j beside b_j x_j, for each j alone and for all at once.
 * Formula: score test of adding it at the fitted b (Therneau & Grambsch 2000, chapter 6, as a score test): U = sum over events
 * of g(t) times Schoenfeld's residual, with the variance that is left of sum g^2 V when b has been fitted,
 * sum g^2 V - (sum g V)(sum V)^-1(sum g V), V the variance among those at risk, averaged over the terms of tied events.
 * g: `km` (default) 1 - S(t-), the Kaplan-Meier curve of all rows, unweighted, whatever the strata; `rank` the average
 * rank of the time among the times of all rows, censored ones too; `identity` t; `log` log t.
 * The variance is the model's, also for a robust fit. Ties, weights, strata, entries: as the fit.
 * Not estimable: a covariate without a coefficient; no change of g over the event times; log with an event at time 0.
 * @throws StatisticsError as fitCox, and outOfRange (`fit`) when the fit is not of these data.
 */
export function testProportionalHazards(
  data: CoxData,
  fit: CoxFit,
  options: { readonly transform?: TimeTransform } = {},
): ProportionalHazardsTest {
  const { transform = 'km' } = options;
  const { design, cells } = restoreCox(data, fit);
  const { columnCount: size, sets } = design;
  const all = (absent: NotEstimable): ProportionalHazardsTest => ({
    transform,
    covariates: fit.coefficients.map((found) => (found.kind === 'estimated' ? absent : found)),
    global: absent,
  });
  if (transform === 'log' && sets.cellTimes[0] === 0) return all(notEstimable('eventAtTimeZero'));
  const gain = centred(transformedTimes(data, sets, transform), sets.eventWeights);
  const { information } = sumOverEvents(cells, design);
  const first = sumOverEvents(cells, design, gain);
  const second = sumOverEvents(
    cells,
    design,
    gain.map((g) => g * g),
  );
  const factor = factorSymmetric(information, size, Number.EPSILON);
  const left = leftOver(second.information, first.information, factor);
  const scale = Float64Array.from({ length: size }, (_, j) => second.information[j * size + j]);
  const joint = factorSymmetric(left, size, NOTHING_LEFT, scale);
  return {
    transform,
    covariates: fit.coefficients.map((found, column) => {
      const j = fit.estimated.indexOf(column);
      if (j < 0) return found.kind === 'notEstimable' ? found : notEstimable('collinear');
      const variance = left[j * size + j];
      if (!(variance > NOTHING_LEFT * scale[j])) return notEstimable('noTimeVariation');
      return testedBy(first.gradient[j] ** 2 / variance, 1);
    }),
    global:
      joint.rank === size
        ? testedBy(inverseQuadratic(joint, first.gradient), size)
        : notEstimable('noTimeVariation'),
  };
}

/** A variance is gone when this part of it, or less, is left. */
const NOTHING_LEFT = 1e-10;

/** second - first factor^-1 first. */
function leftOver(second: Float64Array, first: Float64Array, factor: SymmetricFactor): Float64Array {
  const { size } = factor;
  const left = Float64Array.from(second);
  for (let j = 0; j < size; j += 1) {
    const solved = solveSymmetric(factor, first.subarray(j * size, (j + 1) * size));
    for (let i = 0; i < size; i += 1)
      for (let k = 0; k < size; k += 1) left[i * size + j] -= first[i * size + k] * solved[k];
  }
  return left;
}

/** g(t) per event time. */
function transformedTimes(data: CoxData, sets: RiskSets, transform: TimeTransform): Float64Array {
  if (transform === 'identity') return sets.cellTimes;
  if (transform === 'log') return sets.cellTimes.map((time) => Math.log(time));
  const present = rowsPresent(data);
  if (transform === 'rank') return averageRanks(present, sets.cellTimes);
  const curve = estimateKaplanMeier(present);
  return sets.cellTimes.map((time) => {
    const before = countBefore(curve.timeDays, time);
    return before === 0 ? 0 : 1 - curve.survival[before - 1];
  });
}

/** The rows of a weight above 0. */
function rowsPresent({ timeDays, event, entryDays, weights }: CoxData): SurvivalData {
  const rows = Array.from({ length: timeDays.length }, (_, i) => i).filter((i) => !weights || weights[i] > 0);
  const columns = { timeDays: rows.map((i) => timeDays[i]), event: rows.map((i) => event[i]) };
  return entryDays ? { ...columns, entryDays: rows.map((i) => entryDays[i]) } : columns;
}

/** About the weighted mean over events: the test does not change, but keeps its digits. */
function centred(values: Float64Array, weights: Float64Array): Float64Array {
  let sum = 0;
  let total = 0;
  for (let k = 0; k < values.length; k += 1) {
    sum += weights[k] * values[k];
    total += weights[k];
  }
  const mean = sum / total;
  return values.map((value) => value - mean);
}
