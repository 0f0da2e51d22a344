import { amount, flag, notParoxysmal, type Score, type ScoreItem, sexItem, when } from './score';

/** Scores of recurrence after ablation that can be computed before it. */
export const APPLE: Score = {
  code: 'apple',
  label: 'APPLE',
  predicts: 'Recurrence 3 to 12 months after ablation',
  source: 'Kornej 2015, Clin Res Cardiol 104:871; 0 to 5',
  fromMemory: '',
  knownFrom: 'baseline',
  items: [
    amount('Age above 65', 'ageYears', 1, (years) => when(years > 65)),
    notParoxysmal(),
    amount('eGFR below 60', 'egfrMlMin173m2', 1, (rate) => when(rate < 60)),
    amount('LA diameter 43 mm or more', 'laDiameterMm', 1, (mm) => when(mm >= 43)),
    amount('LVEF below 50 %', 'lvefPct', 1, (pct) => when(pct < 50)),
  ],
};

export const CAAP_AF: Score = {
  code: 'caap-af',
  label: 'CAAP-AF',
  predicts: 'Recurrence after ablation',
  source: 'Winkle 2016; 0 to 13',
  fromMemory: 'points of the items (their maxima add up to the printed 13)',
  knownFrom: 'baseline',
  items: [
    flag('Coronary disease', 'coronaryDisease'),
    amount(
      'LA diameter from 40, 45, 50, 55 mm',
      'laDiameterMm',
      4,
      (mm) => when(mm >= 40) + when(mm >= 45) + when(mm >= 50) + when(mm >= 55),
    ),
    amount(
      'Age from 50, 60, 70',
      'ageYears',
      3,
      (years) => when(years >= 50) + when(years >= 60) + when(years >= 70),
    ),
    notParoxysmal(2),
    amount(
      'Failed antiarrhythmic drugs: 1 or 2, more',
      'failedAntiarrhythmics',
      2,
      (drugs) => when(drugs >= 1) + when(drugs > 2),
    ),
    sexItem('female'),
  ],
};

export const HATCH: Score = {
  code: 'hatch',
  label: 'HATCH',
  predicts: 'Progression of AF; used for recurrence too',
  source: '0 to 7',
  fromMemory: 'points of the items',
  knownFrom: 'baseline',
  items: [
    flag('Hypertension', 'hypertension'),
    amount('Age above 75', 'ageYears', 1, (years) => when(years > 75)),
    flag('Earlier stroke or TIA', 'strokeHistory', 2),
    flag('COPD', 'copd'),
    flag('Heart failure', 'heartFailure', 2),
  ],
};

export const ALARMEC: Score = {
  code: 'alarmec',
  label: 'ALARMEc',
  predicts: 'Recurrence after ablation',
  source: 'items and range 0 to 5 as published',
  fromMemory: 'the limits of LA area (10.25 cm²/m²) and eGFR (68)',
  knownFrom: 'baseline',
  items: [
    notParoxysmal(),
    amount('LA area 10.25 cm²/m² or more', 'laAreaIndexCm2M2', 1, (area) => when(area >= 10.25)),
    amount('eGFR below 68', 'egfrMlMin173m2', 1, (rate) => when(rate < 68)),
    flag('Metabolic syndrome', 'metabolicSyndrome'),
    flag('Cardiomyopathy', 'cardiomyopathy'),
  ],
};

/** Persistent 1, long-standing 2. */
const typeInSteps: ScoreItem = {
  label: 'Persistent: 1, long-standing: 2',
  fields: ['afType'],
  most: 2,
  points: ({ afType }) =>
    afType === null ? null : when(afType !== 'paroxysmal') + when(afType === 'long-standing-persistent'),
};

/** Longer than six years; two calendar years six apart leave it open. */
const sixYears: ScoreItem = {
  label: 'AF for more than 6 years',
  fields: ['afYears'],
  most: 1,
  points: ({ afYears }) => {
    if (afYears === null) return null;
    if (afYears.least >= 6) return 1;
    return afYears.most <= 6 ? 0 : null;
  },
};

export const MB_LATER: Score = {
  code: 'mb-later',
  label: 'MB-LATER',
  predicts: 'Recurrence after the first year',
  source: 'Mujović 2017, Sci Rep 7:40828; 0 to 6',
  fromMemory: 'the steps of the AF type (0, 1, 2)',
  knownFrom: 'end of blanking',
  items: [
    sexItem('male'),
    flag('Bundle branch block', 'bundleBranchBlock'),
    amount('LA diameter 47 mm or more', 'laDiameterMm', 1, (mm) => when(mm >= 47)),
    typeInSteps,
    flag('Early recurrence', 'earlyRecurrence'),
  ],
};

export const BASE_AF2: Score = {
  code: 'base-af2',
  label: 'BASE-AF2',
  predicts: 'Recurrence after ablation',
  source: 'range 0 to 6 as published',
  fromMemory: 'items and points',
  knownFrom: 'end of blanking',
  items: [
    amount('BMI above 28', 'bmiKgM2', 1, (bmi) => when(bmi > 28)),
    amount('LA diameter above 40 mm', 'laDiameterMm', 1, (mm) => when(mm > 40)),
    flag('Smoker', 'smoker'),
    flag('Early recurrence', 'earlyRecurrence'),
    sixYears,
    notParoxysmal(),
  ],
};
