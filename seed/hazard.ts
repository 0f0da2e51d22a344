import type { AfType } from '../lib/registry/vocabulary';
import { type Delivered, type OperatorCode, RECURRENCE } from './parameters';

/** What the hazard of recurrence depends on, and nothing else. */
export interface Risk {
  readonly ageYears: number;
  readonly afType: AfType;
  readonly laDiameterMm: number;
  readonly structuralHeartDisease: boolean;
  readonly operator: OperatorCode;
  /** Cases that the operator had done before, in and before the lab. */
  readonly operatorCases: number;
  /** Years since the lab's first day. */
  readonly calendarYears: number;
}

const { blankingDays, shape, scaleDays, logHazardRatio } = RECURRENCE;

/** The log hazard ratio of a patient against the reference (all covariates at their reference), the strategy left out. */
export function logRiskOf(risk: Risk): number {
  return (
    logHazardRatio.afType[risk.afType] +
    logHazardRatio.laDiameterPerMm * (risk.laDiameterMm - 40) +
    logHazardRatio.agePerYear * (risk.ageYears - 60) +
    (risk.structuralHeartDisease ? logHazardRatio.structuralHeartDisease : 0) +
    logHazardRatio.operator[risk.operator] +
    logHazardRatio.learning * Math.exp(-risk.operatorCases / RECURRENCE.learningCases) +
    logHazardRatio.calendarPerYear * risk.calendarYears
  );
}

/** Cumulative hazard of the reference patient by a day after the procedure; 0 through the blanking period. */
export function baselineHazardAt(day: number): number {
  return day <= blankingDays ? 0 : ((day - blankingDays) / scaleDays) ** shape;
}

/** Probability of no true recurrence through a day, given the covariates and the strategy delivered. */
export function freedomAt(day: number, logRisk: number, delivered: Delivered): number {
  return Math.exp(-baselineHazardAt(day) * Math.exp(logRisk + logHazardRatio.strategy[delivered]));
}

/** The day (continuous) on which a unit-exponential amount of hazard is used up: the inverse of the cumulative hazard. */
export function dayOfHazard(amount: number, logRisk: number, delivered: Delivered): number {
  const scaled = amount / Math.exp(logRisk + logHazardRatio.strategy[delivered]);
  return blankingDays + scaleDays * scaled ** (1 / shape);
}
