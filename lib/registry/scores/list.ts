import { ALARMEC, APPLE, BASE_AF2, CAAP_AF, HATCH, MB_LATER } from './recurrence';
import { computeScore, type ScoreFacts, type ScoreResult } from './score';
import { CHA2DS2_VA, CHA2DS2_VASC, HAS_BLED } from './stroke-and-bleeding';

/** Every score of the registry, in the order in which they are shown. None advises on a patient. */
export const SCORES = [
  CHA2DS2_VA,
  CHA2DS2_VASC,
  HAS_BLED,
  APPLE,
  CAAP_AF,
  HATCH,
  ALARMEC,
  MB_LATER,
  BASE_AF2,
] as const;

export function computeScores(facts: ScoreFacts): ScoreResult[] {
  return SCORES.map((score) => computeScore(score, facts));
}

/** Years that lie between two calendar years, at least and at most: the months are not known. */
export function yearsBetween(fromYear: number, toYear: number): { least: number; most: number } {
  const difference = toYear - fromYear;
  return { least: Math.max(0, difference - 1), most: difference + 1 };
}
