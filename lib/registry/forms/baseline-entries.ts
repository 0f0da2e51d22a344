import { z } from 'zod';
import { AF_TYPES, EPISODE_ENDINGS, SYMPTOM_SCORES } from '../vocabulary';
import { choiceEntry, type NumberField, numberEntry, yesNoEntry } from './entries';
import { BASELINE_LABELS } from './field-labels';

/** Words that people expect among AF types; none exists for a patient whose rhythm is being treated (2017 consensus, Table 1). */
const REFUSED_AF_TYPES: Readonly<Record<string, string>> = {
  permanent:
    '“permanent” means that rhythm control has been given up, which contradicts an ablation. Choose by the longest episode: persistent, or long-standing persistent beyond 12 months.',
  chronic:
    '“chronic” has no agreed meaning. Choose by the longest episode: persistent up to 12 months, long-standing persistent beyond.',
  lone: '“lone” says nothing about how long AF lasts and is no longer used. Choose by the longest episode, and record heart disease in its own fields.',
};

/** Impossible limits are those of the database; usual ranges are common practice, no source, and only question the entry. */
export const BASELINE_NUMBERS = {
  longestEpisodeDays: {
    label: BASELINE_LABELS.longestEpisodeDays,
    unit: 'd',
    min: 0,
    max: 36_500,
    usualMax: 3650,
    decimals: 0,
  },
  afSinceYear: { label: BASELINE_LABELS.afSinceYear, unit: '', min: 1890, max: 2100, decimals: 0 },
  laDiameterMm: {
    label: BASELINE_LABELS.laDiameterMm,
    unit: 'mm',
    min: 10,
    max: 120,
    usualMin: 25,
    usualMax: 65,
    decimals: 0,
  },
  laVolumeIndexMlM2: {
    label: BASELINE_LABELS.laVolumeIndexMlM2,
    unit: 'mL/m2',
    min: 5,
    max: 300,
    usualMin: 15,
    usualMax: 100,
    decimals: 1,
  },
  lvefPct: {
    label: BASELINE_LABELS.lvefPct,
    unit: '%',
    min: 5,
    max: 90,
    usualMin: 20,
    usualMax: 75,
    decimals: 0,
  },
  bmiKgM2: {
    label: BASELINE_LABELS.bmiKgM2,
    unit: 'kg/m2',
    min: 10,
    max: 90,
    usualMin: 16,
    usualMax: 50,
    decimals: 1,
  },
  egfrMlMin173m2: {
    label: BASELINE_LABELS.egfrMlMin173m2,
    unit: 'mL/min/{1.73_m2}',
    min: 1,
    max: 200,
    usualMin: 15,
    usualMax: 130,
    decimals: 0,
  },
  priorCardioversions: {
    label: BASELINE_LABELS.priorCardioversions,
    unit: '',
    min: 0,
    max: 99,
    usualMax: 15,
    decimals: 0,
  },
  failedAntiarrhythmics: {
    label: BASELINE_LABELS.failedAntiarrhythmics,
    unit: '',
    min: 0,
    max: 20,
    usualMax: 6,
    decimals: 0,
  },
} as const satisfies Record<string, NumberField>;

/** What is known before the procedure; everything may stay empty, because a value not known is not a "no". */
export const baselineEntries = z.strictObject({
  afType: choiceEntry(BASELINE_LABELS.afType, AF_TYPES, REFUSED_AF_TYPES),
  longestEpisodeDays: numberEntry(BASELINE_NUMBERS.longestEpisodeDays),
  episodeEnding: choiceEntry(BASELINE_LABELS.episodeEnding, EPISODE_ENDINGS),
  afSinceYear: numberEntry(BASELINE_NUMBERS.afSinceYear),
  symptomScore: choiceEntry(BASELINE_LABELS.symptomScore, SYMPTOM_SCORES),
  laDiameterMm: numberEntry(BASELINE_NUMBERS.laDiameterMm),
  laVolumeIndexMlM2: numberEntry(BASELINE_NUMBERS.laVolumeIndexMlM2),
  lvefPct: numberEntry(BASELINE_NUMBERS.lvefPct),
  bmiKgM2: numberEntry(BASELINE_NUMBERS.bmiKgM2),
  egfrMlMin173m2: numberEntry(BASELINE_NUMBERS.egfrMlMin173m2),
  structuralHeartDisease: yesNoEntry(BASELINE_LABELS.structuralHeartDisease),
  heartFailure: yesNoEntry(BASELINE_LABELS.heartFailure),
  hypertension: yesNoEntry(BASELINE_LABELS.hypertension),
  diabetes: yesNoEntry(BASELINE_LABELS.diabetes),
  strokeHistory: yesNoEntry(BASELINE_LABELS.strokeHistory),
  vascularDisease: yesNoEntry(BASELINE_LABELS.vascularDisease),
  coronaryDisease: yesNoEntry(BASELINE_LABELS.coronaryDisease),
  copd: yesNoEntry(BASELINE_LABELS.copd),
  sleepApnoea: yesNoEntry(BASELINE_LABELS.sleepApnoea),
  smoker: yesNoEntry(BASELINE_LABELS.smoker),
  priorCardioversions: numberEntry(BASELINE_NUMBERS.priorCardioversions),
  failedAntiarrhythmics: numberEntry(BASELINE_NUMBERS.failedAntiarrhythmics),
});

export const emptyBaseline = {
  afType: '',
  longestEpisodeDays: '',
  episodeEnding: '',
  afSinceYear: '',
  symptomScore: '',
  laDiameterMm: '',
  laVolumeIndexMlM2: '',
  lvefPct: '',
  bmiKgM2: '',
  egfrMlMin173m2: '',
  structuralHeartDisease: '',
  heartFailure: '',
  hypertension: '',
  diabetes: '',
  strokeHistory: '',
  vascularDisease: '',
  coronaryDisease: '',
  copd: '',
  sleepApnoea: '',
  smoker: '',
  priorCardioversions: '',
  failedAntiarrhythmics: '',
} satisfies z.input<typeof baselineEntries>;
