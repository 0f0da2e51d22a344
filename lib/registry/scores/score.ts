import type { AfType, Sex } from '../vocabulary';

/** What scores ask for; null is not known, which is never "no". */
export interface ScoreFacts {
  readonly ageYears: number | null;
  readonly sex: Sex;
  readonly afType: AfType | null;
  /** Whole years since the first episode, as far as two calendar years tell: at least and at most. */
  readonly afYears: { readonly least: number; readonly most: number } | null;
  readonly laDiameterMm: number | null;
  readonly laAreaIndexCm2M2: number | null;
  readonly lvefPct: number | null;
  readonly bmiKgM2: number | null;
  readonly egfrMlMin173m2: number | null;
  readonly heartFailure: boolean | null;
  readonly hypertension: boolean | null;
  readonly uncontrolledHypertension: boolean | null;
  readonly diabetes: boolean | null;
  readonly strokeHistory: boolean | null;
  readonly vascularDisease: boolean | null;
  readonly coronaryDisease: boolean | null;
  readonly cardiomyopathy: boolean | null;
  readonly copd: boolean | null;
  readonly bundleBranchBlock: boolean | null;
  readonly metabolicSyndrome: boolean | null;
  readonly renalDisease: boolean | null;
  readonly liverDisease: boolean | null;
  readonly bleedingHistory: boolean | null;
  readonly labileInr: boolean | null;
  readonly antiplateletOrNsaid: boolean | null;
  readonly alcoholExcess: boolean | null;
  readonly smoker: boolean | null;
  readonly failedAntiarrhythmics: number | null;
  /** Arrhythmia within the blanking period; null until it has ended, or when nobody looked. */
  readonly earlyRecurrence: boolean | null;
}
export type ScoreField = keyof ScoreFacts;

export interface ScoreItem {
  readonly label: string;
  /** Fields that the item reads: what to enter when it cannot be judged. */
  readonly fields: readonly ScoreField[];
  readonly most: number;
  /** Points from the facts, or null when they do not suffice. */
  readonly points: (facts: ScoreFacts) => number | null;
}

export interface Score {
  readonly code: string;
  readonly label: string;
  /** What it was made to predict. */
  readonly predicts: string;
  readonly source: string;
  /** What of it is from memory; '' when all was read in the source. */
  readonly fromMemory: string;
  /** A score that needs early recurrence cannot be known before blanking has ended, nor enter a model of who was treated how. */
  readonly knownFrom: 'baseline' | 'end of blanking';
  readonly items: readonly [ScoreItem, ...ScoreItem[]];
}

interface ScoredItem {
  readonly label: string;
  /** Null when the facts do not suffice. */
  readonly points: number | null;
  readonly most: number;
}

export type ScoreResult = {
  readonly score: Score;
  readonly items: readonly ScoredItem[];
  readonly most: number;
} & (
  | { readonly kind: 'complete'; readonly points: number }
  /** The points lie somewhere from `least` to `atMost`, by what is missing. */
  | {
      readonly kind: 'incomplete';
      readonly least: number;
      readonly atMost: number;
      readonly missing: readonly ScoreField[];
    }
);

/** Points of a score; never a number when an item cannot be judged. */
export function computeScore(score: Score, facts: ScoreFacts): ScoreResult {
  const items = score.items.map(({ label, most, points }) => ({ label, most, points: points(facts) }));
  const most = items.reduce((sum, item) => sum + item.most, 0);
  const least = items.reduce((sum, item) => sum + (item.points ?? 0), 0);
  const open = score.items.filter((_, index) => items[index]?.points === null);
  if (open.length === 0) return { score, items, most, kind: 'complete', points: least };
  return {
    score,
    items,
    most,
    kind: 'incomplete',
    least,
    atMost: least + open.reduce((sum, item) => sum + item.most, 0),
    missing: [...new Set(open.flatMap((item) => item.fields))].filter((field) => isMissing(facts, field)),
  };
}

const isMissing = (facts: ScoreFacts, field: ScoreField): boolean =>
  facts[field] === null || facts[field] === 'unknown' || field === 'afYears';

type FlagField = { [K in ScoreField]: ScoreFacts[K] extends boolean | null ? K : never }[ScoreField];

/** An item of `worth` points that one yes-or-no field decides. */
export function flag(label: string, field: FlagField, worth = 1): ScoreItem {
  const points = (facts: ScoreFacts) => (facts[field] === null ? null : facts[field] ? worth : 0);
  return { label, fields: [field], most: worth, points };
}

type AmountField = { [K in ScoreField]: ScoreFacts[K] extends number | null ? K : never }[ScoreField];

/** An item that one amount decides. */
export function amount(
  label: string,
  field: AmountField,
  most: number,
  pointsOf: (value: number) => number,
): ScoreItem {
  const points = (facts: ScoreFacts) => {
    const value = facts[field];
    return value === null ? null : pointsOf(value);
  };
  return { label, fields: [field], most, points };
}

/** Points when a condition holds. */
export const when = (holds: boolean, worth = 1): number => (holds ? worth : 0);

/** Any AF type but paroxysmal. */
export const notParoxysmal = (worth = 1): ScoreItem => ({
  label: 'Not paroxysmal',
  fields: ['afType'],
  most: worth,
  points: ({ afType }) => (afType === null ? null : when(afType !== 'paroxysmal', worth)),
});

export const sexItem = (sex: 'female' | 'male'): ScoreItem => ({
  label: sex === 'female' ? 'Female' : 'Male',
  fields: ['sex'],
  most: 1,
  points: (facts) => (facts.sex === 'unknown' ? null : when(facts.sex === sex)),
});
