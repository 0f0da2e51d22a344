import type { AfType } from '../lib/registry/vocabulary';

/**
 * Every number that the demo lab is made of. What follows from them is worked out in truth.ts; change one and truth.json
 * must be made anew (seed/make-truth.ts), with VERSION raised.
 */
export const DEMO_SEED = 2018;
export const VERSION = 1;

export const PATIENTS = 1400;
/** Seven years of whole weeks; day 0 is a Monday, the last day a Sunday. */
export const WEEKS = 365;
export const LAB_DAYS = 7 * WEEKS;

/** What can be delivered; 'mixed' is never meant, it happens. */
export const DELIVERED = ['ostial', 'wide-encircling', 'wide-with-lines', 'single-shot', 'mixed'] as const;
export type Delivered = (typeof DELIVERED)[number];
export const COMPARED = ['ostial', 'wide-encircling', 'wide-with-lines', 'single-shot'] as const;
export type Compared = (typeof COMPARED)[number];

export const OPERATORS = ['OP-1', 'OP-2', 'OP-3'] as const;
export type OperatorCode = (typeof OPERATORS)[number];

/**
 * The true hazard of a first recurrence, in continuous time after the blanking period:
 * H(w) = (w / scaleDays)^shape x exp(sum of log hazard ratios), w = days since day 90. Proportional given the covariates.
 */
export const RECURRENCE = {
  blankingDays: 90,
  shape: 0.7,
  scaleDays: 1180,
  logHazardRatio: {
    strategy: {
      ostial: 0,
      'wide-encircling': -0.4,
      'wide-with-lines': -0.85,
      'single-shot': -0.5,
      mixed: -0.2,
    } satisfies Record<Delivered, number>,
    afType: {
      paroxysmal: 0,
      'early-persistent': 0.35,
      persistent: 0.55,
      'long-standing-persistent': 0.95,
    } satisfies Record<AfType, number>,
    /** Per mm above 40 mm. */
    laDiameterPerMm: 0.05,
    /** Per year above 60 years. */
    agePerYear: 0.012,
    structuralHeartDisease: 0.3,
    /** Per year of calendar time since the first day. */
    calendarPerYear: -0.03,
    operator: { 'OP-1': 0, 'OP-2': 0.12, 'OP-3': 0.22 } satisfies Record<OperatorCode, number>,
    /** x exp(-cases so far / learningCases), cases before the lab's first day included. */
    learning: 0.35,
    /** A repeat ablation against a first one. */
    repeat: -0.25,
  },
  learningCases: 50,
  casesBefore: { 'OP-1': 300, 'OP-2': 60, 'OP-3': 0 } satisfies Record<OperatorCode, number>,
  /** Share of first recurrences that are AT or flutter: constant in time and in all covariates but the strategy. */
  atAflShare: {
    ostial: 0.12,
    'wide-encircling': 0.28,
    'wide-with-lines': 0.18,
    'single-shot': 0.2,
    mixed: 0.24,
  } satisfies Record<Delivered, number>,
  /** Share of recurrences that go on without pause until treated; the others come and go. */
  sustainedShare: 0.25,
  /** Probability of an early recurrence (day 1 to 88), by whether the true late one comes before day 455. */
  earlyShare: { withLate: 0.6, withoutLate: 0.27 },
} as const;

/** Sensitivity of one recording while recurrence is present. Nothing is found where there is nothing: specificity 1. */
export const DETECTION = {
  sensitivity: {
    intermittent: { ecg: 0.22, '24h': 0.42, '7d': 0.7, '14d': 0.82, continuous: 0.98 },
    sustained: { ecg: 0.97, '24h': 0.99, '7d': 0.99, '14d': 0.99, continuous: 0.99 },
  },
  /** Share of recurrences that bring the patient in; days until then are exponential; the recording taken then shows it. */
  symptomDriven: { share: 0.35, meanDelayDays: 12, sensitivity: 0.85 },
  implantedShare: 0.03,
} as const;

export const FOLLOW_UP = {
  /** Rate per year of leaving follow-up; independent of rhythm. */
  dropOutPerYear: 0.06,
  /** How a patient who leaves does so. */
  dropOutKind: { silent: 0.68, transferred: 0.25, withdrawn: 0.07 },
  /** Probability that a planned contact takes place at all. */
  attendance: { call: 0.93, firstYear: 0.92, secondYear: 0.84, later: 0.74 },
  /** Share of contacts at which drugs are gone through. */
  drugsReviewed: { clinic: 0.97, phone: 0.9, letter: 0.6, device: 0.2 },
  visitMode: { clinic: 0.66, phone: 0.22, letter: 0.12 },
  /** Share of phone visits and letters that bring an ECG from outside. */
  outsideEcg: { phone: 0.45, letter: 0.85 },
} as const;

/** Shares of values never written down, in the first year and in the last; linear between, independent of outcome. */
export const MISSING = {
  afType: [0.03, 0.01],
  ageYears: [0.01, 0],
  laDiameterMm: [0.12, 0.04],
  laVolumeIndexMlM2: [0.8, 0.35],
  lvefPct: [0.12, 0.05],
  structuralHeartDisease: [0.05, 0.01],
  bmiKgM2: [0.1, 0.04],
  egfrMlMin173m2: [0.2, 0.08],
  longestEpisodeDays: [0.3, 0.15],
  symptomScore: [0.15, 0.05],
  steering: [0.1, 0.02],
  fluoroscopySeconds: [0.08, 0.02],
  operatorId: [0.01, 0],
} as const;
export type Missable = keyof typeof MISSING;

/** Lesion sets that do not carry the intended label, and rings of which too few segments were written down. */
export const LABELS = {
  /** From the label to what was delivered. */
  delivered: {
    ostial: { ostial: 0.95, mixed: 0.05 },
    'wide-encircling': { 'wide-encircling': 0.92, 'wide-with-lines': 0.05, mixed: 0.03 },
    'wide-with-lines': { 'wide-with-lines': 0.91, 'wide-encircling': 0.07, mixed: 0.02 },
    'single-shot': { 'single-shot': 1 },
  } satisfies Record<Compared, Partial<Record<Delivered, number>>>,
  /** Share of radiofrequency cases with one ring too poorly recorded to derive anything. */
  notDerivable: 0.03,
} as const;

/** Deaths: rate per year at 65, growing with age; not tied to rhythm. */
export const DEATH = {
  perYearAt65: 0.007,
  logPerYearOfAge: 0.075,
  lowEjectionFraction: 2.2,
  structuralHeartDisease: 1.6,
} as const;

/** What is done once a recurrence is known. None of it comes before the first detection, so none changes the first event. */
export const TREATMENT = {
  repeatAfterDetection: 0.64,
  mostProcedures: 4,
  repeatDelayDays: [25, 260],
  cardioversionWhenSustained: 0.6,
  drugAfterDetection: 0.4,
  /** Share on a class I or III drug at the procedure, paroxysmal and not. */
  drugAtProcedure: { paroxysmal: 0.4, other: 0.62 },
  /** When it ends: on the day, within blanking, later, never. */
  drugEnd: { day0: 0.22, blanking: 0.7, later: 0.05, never: 0.03 },
} as const;
