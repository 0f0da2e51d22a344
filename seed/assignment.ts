import type { Risk } from './hazard';
import { COMPARED, type Compared, type Delivered, LABELS } from './parameters';

/**
 * Who gets which strategy. It depends on recorded covariates and calendar time only, so that adjustment can find the truth;
 * nothing hidden drives it. Ostial work is early and for paroxysmal AF and has ended before single-shot devices arrive:
 * these two never overlap. Lines go to sicker patients and spread over the years: crude comparisons mislead.
 */
export function intendedWeights(risk: Risk): Record<Compared, number> {
  const { calendarYears: years, laDiameterMm, ageYears, operator } = risk;
  const isPersistent = risk.afType !== 'paroxysmal';
  const la = laDiameterMm - 41;
  const ostial = OSTIAL_ENDS > years ? 2.3 - 1.5 * years - (isPersistent ? 2.6 : 0) - 0.07 * la : NEVER;
  const lines =
    -3.4 +
    0.9 * Math.min(years, 3) +
    (isPersistent ? 1.3 : 0) +
    (risk.afType === 'long-standing-persistent' ? 0.7 : 0) +
    0.12 * la +
    0.03 * (ageYears - 61) +
    (risk.structuralHeartDisease ? 0.7 : 0) +
    { 'OP-1': 0.2, 'OP-2': -0.3, 'OP-3': 0 }[operator];
  const singleShot =
    years >= SINGLE_SHOT_BEGINS
      ? 0.2 + 0.25 * (years - SINGLE_SHOT_BEGINS) - (isPersistent ? 0.4 : 0) - 0.03 * la
      : NEVER;
  return {
    ostial: Math.exp(ostial),
    'wide-encircling': 1,
    'wide-with-lines': Math.exp(lines),
    'single-shot': Math.exp(singleShot),
  };
}

const NEVER = Number.NEGATIVE_INFINITY;
export const OSTIAL_ENDS = 3;
export const SINGLE_SHOT_BEGINS = 4.2;

/** Probability of each delivered strategy given the covariates: the label's probabilities through the table of LABELS. */
export function deliveredProbabilities(risk: Risk): Record<Delivered, number> {
  const weights = intendedWeights(risk);
  const total = COMPARED.reduce((sum, code) => sum + weights[code], 0);
  const probabilities: Record<Delivered, number> = {
    ostial: 0,
    'wide-encircling': 0,
    'wide-with-lines': 0,
    'single-shot': 0,
    mixed: 0,
  };
  for (const label of COMPARED) {
    const row: Partial<Record<Delivered, number>> = LABELS.delivered[label];
    for (const delivered of [...COMPARED, 'mixed'] as const) {
      probabilities[delivered] += (weights[label] / total) * (row[delivered] ?? 0);
    }
  }
  return probabilities;
}
