import { invertSymmetric, type SymmetricFactor } from './cholesky';
import type { FineGrayDesign } from './fine-gray-design';
import type { FineGraySums } from './fine-gray-sums';

/**
 * Inverse information x sum of (eta + psi)(eta + psi)' x inverse information, in units of the covariates (Fine & Gray 1999): eta is what
 * a row's own event, and its time at stake, add to the score; psi what its part in the censoring curve adds.
 */
export function fineGrayCovariance(
  design: FineGrayDesign,
  sums: FineGraySums,
  factor: SymmetricFactor,
): Float64Array {
  const { size, scale } = design;
  const scores = addCensoringParts(design, sums, ownParts(design, sums));
  const inverse = invertSymmetric(factor);
  const covariance = new Float64Array(size * size);
  const influence = new Float64Array(size);
  for (let at = 0; at < scores.length; at += size) {
    for (let j = 0; j < size; j += 1) {
      influence[j] = 0;
      for (let k = 0; k < size; k += 1) influence[j] += (scores[at + k] * inverse[k * size + j]) / scale[j];
    }
    for (let j = 0; j < size; j += 1)
      for (let k = 0; k < size; k += 1) covariance[j * size + k] += influence[j] * influence[k];
  }
  return covariance;
}

/** Sums over places up to and including each: of the hazard, of hazard x mean, and of both times G. */
type Running = {
  readonly hazard: Float64Array;
  readonly moment: Float64Array;
  readonly weighted: Float64Array;
  readonly weightedMoment: Float64Array;
};

function runningSums({ size, uncensored }: FineGrayDesign, { hazard, mean }: FineGraySums): Running {
  const places = hazard.length;
  const running: Running = {
    ...{ hazard: new Float64Array(places + 1), moment: new Float64Array((places + 1) * size) },
    ...{ weighted: new Float64Array(places + 1), weightedMoment: new Float64Array((places + 1) * size) },
  };
  // Shifted by one place: entry p holds the sum over places before p.
  for (let p = 0; p < places; p += 1) {
    running.hazard[p + 1] = running.hazard[p] + hazard[p];
    running.weighted[p + 1] = running.weighted[p] + hazard[p] * uncensored[p];
    for (let j = 0; j < size; j += 1) {
      const part = hazard[p] * mean[p * size + j];
      const at = p * size + j;
      running.moment[at + size] = running.moment[at] + part;
      running.weightedMoment[at + size] = running.weightedMoment[at] + part * uncensored[p];
    }
  }
  return running;
}

function ownParts(design: FineGrayDesign, sums: FineGraySums): Float64Array {
  const { size, z, place, kind, uncensored } = design;
  const places = sums.hazard.length;
  const running = runningSums(design, sums);
  const eta = new Float64Array(z.length);
  for (let i = 0; i < place.length; i += 1) {
    const after = place[i] + 1;
    const later = kind[i] === 2 ? 1 / uncensored[place[i]] : 0;
    for (let j = 0; j < size; j += 1) {
      const value = z[i * size + j];
      const own = kind[i] === 1 ? value - sums.mean[place[i] * size + j] : 0;
      const there = value * running.hazard[after] - running.moment[after * size + j];
      const past =
        value * (running.weighted[places] - running.weighted[after]) -
        (running.weightedMoment[places * size + j] - running.weightedMoment[after * size + j]);
      eta[i * size + j] = own - sums.risk[i] * (there + later * past);
    }
  }
  return eta;
}

/** Adds psi to the scores, in place. */
function addCensoringParts(design: FineGrayDesign, sums: FineGraySums, scores: Float64Array): Float64Array {
  const { size, place, kind, censored, atRisk, tiedFailures } = design;
  const places = censored.length;
  const share = censoringShares(design, sums);
  // Entry p: the sum over places before p of (censored / at risk) x share.
  const spent = new Float64Array((places + 1) * size);
  for (let p = 0; p < places; p += 1)
    for (let j = 0; j < size; j += 1) {
      const at = p * size + j;
      spent[at + size] = spent[at] + (censored[p] > 0 ? (censored[p] / atRisk[p]) * share[at] : 0);
    }
  for (let i = 0; i < place.length; i += 1) {
    const through = place[i] + (kind[i] !== 0 && tiedFailures === 'gone' ? 0 : 1);
    for (let j = 0; j < size; j += 1) {
      const own = kind[i] === 0 ? share[place[i] * size + j] : 0;
      scores[i * size + j] += own - spent[through * size + j];
    }
  }
  return scores;
}

/** q(c) / Y(c) at each place with censorings: what the score owes, after it, to those who had another cause before. */
function censoringShares(design: FineGrayDesign, sums: FineGraySums): Float64Array {
  const { size, z, place, kind, censored, atRisk, uncensored } = design;
  const places = censored.length;
  const running = runningSums(design, sums);
  const risk = new Float64Array(places);
  const moment = new Float64Array(places * size);
  for (let i = 0; i < place.length; i += 1) {
    if (kind[i] !== 2) continue;
    const weight = sums.risk[i] / uncensored[place[i]];
    risk[place[i]] += weight;
    for (let j = 0; j < size; j += 1) moment[place[i] * size + j] += weight * z[i * size + j];
  }
  const share = new Float64Array(places * size);
  let riskBefore = 0;
  const momentBefore = new Float64Array(size);
  for (let p = 0; p < places; p += 1) {
    if (censored[p] > 0) {
      const left = running.weighted[places] - running.weighted[p];
      for (let j = 0; j < size; j += 1) {
        const leftMoment = running.weightedMoment[places * size + j] - running.weightedMoment[p * size + j];
        share[p * size + j] = (momentBefore[j] * left - riskBefore * leftMoment) / atRisk[p];
      }
    }
    riskBefore += risk[p];
    for (let j = 0; j < size; j += 1) momentBefore[j] += moment[p * size + j];
  }
  return share;
}
