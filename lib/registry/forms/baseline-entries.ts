import { z } from 'zod';
import { BASELINE_VARIABLES } from '../case-variables';
import { DRUGS } from '../drugs';
import { LEGAL_BASES, QUALITY_INSTRUMENTS } from '../procedure-vocabulary';
import { AF_TYPES, EPISODE_ENDINGS, SYMPTOM_SCORES } from '../vocabulary';
import { choiceEntry, choiceListEntry, type NumberField, numberEntry, yesNoEntry } from './entries';
import { BASELINE_LABELS } from './field-labels';

/** Words that people expect among AF types; none exists for a patient whose rhythm is being treated (2017 consensus, Table 1). */
const REFUSED_AF_TYPES: Readonly<Record<string, string>> = {
  permanent:
    '“permanent” means that rhythm control has been given up, which contradicts an ablation. Choose by the longest episode: persistent, or long-standing persistent beyond 12 months.',
  chronic:
    '“chronic” has no agreed meaning. Choose by the longest episode: persistent up to 12 months, long-standing persistent beyond.',
  lone: '“lone” says nothing about how long AF lasts and is no longer used. Choose by the longest episode, and record heart disease in its own fields.',
};

type Limits = Omit<NumberField, 'label' | 'unit'>;
const whole = (min: number, max: number, usualMin?: number, usualMax?: number): Limits => ({
  min,
  max,
  decimals: 0,
  ...(usualMin === undefined ? {} : { usualMin }),
  ...(usualMax === undefined ? {} : { usualMax }),
});

/** Impossible limits are those of the database; usual ranges are common practice, no source, and only question the entry. */
const LIMITS = {
  longestEpisodeDays: whole(0, 36_500, undefined, 3650),
  afSinceYear: whole(1890, 2100),
  laDiameterMm: whole(10, 120, 25, 65),
  laVolumeIndexMlM2: { ...whole(5, 300, 15, 100), decimals: 1 },
  laAreaIndexCm2M2: { ...whole(3, 60, 5, 25), decimals: 1 },
  lvefPct: whole(5, 90, 20, 75),
  bmiKgM2: { ...whole(10, 90, 16, 50), decimals: 1 },
  egfrMlMin173m2: whole(1, 200, 15, 130),
  priorCardioversions: whole(0, 99, undefined, 15),
  failedAntiarrhythmics: whole(0, 20, undefined, 6),
  qualityScore: { ...whole(-100, 1000, 0, 100), decimals: 1 },
} as const satisfies Partial<Record<keyof typeof BASELINE_VARIABLES, Limits>>;

export type BaselineNumber = keyof typeof LIMITS;

function numberField(name: BaselineNumber): NumberField {
  const { label, unit } = BASELINE_VARIABLES[name];
  return { label, unit, ...LIMITS[name] };
}

export const BASELINE_NUMBERS: Readonly<Record<BaselineNumber, NumberField>> = {
  longestEpisodeDays: numberField('longestEpisodeDays'),
  afSinceYear: numberField('afSinceYear'),
  laDiameterMm: numberField('laDiameterMm'),
  laVolumeIndexMlM2: numberField('laVolumeIndexMlM2'),
  laAreaIndexCm2M2: numberField('laAreaIndexCm2M2'),
  lvefPct: numberField('lvefPct'),
  bmiKgM2: numberField('bmiKgM2'),
  egfrMlMin173m2: numberField('egfrMlMin173m2'),
  priorCardioversions: numberField('priorCardioversions'),
  failedAntiarrhythmics: numberField('failedAntiarrhythmics'),
  qualityScore: numberField('qualityScore'),
};

const amount = (name: BaselineNumber) => numberEntry(BASELINE_NUMBERS[name]);
const yesNo = (name: keyof typeof BASELINE_LABELS) => yesNoEntry(BASELINE_LABELS[name]);

/** Yes-or-no conditions in the order in which they are asked. */
export const BASELINE_CONDITIONS = [
  'structuralHeartDisease',
  'cardiomyopathy',
  'heartFailure',
  'coronaryDisease',
  'vascularDisease',
  'strokeHistory',
  'hypertension',
  'uncontrolledHypertension',
  'diabetes',
  'metabolicSyndrome',
  'copd',
  'sleepApnoea',
  'smoker',
  'bundleBranchBlock',
  'renalDisease',
  'liverDisease',
  'bleedingHistory',
  'labileInr',
  'antiplateletOrNsaid',
  'alcoholExcess',
] as const;

/** What is known before the procedure; everything may stay empty, because a value not known is not a "no". */
export const baselineEntries = z.strictObject({
  afType: choiceEntry(BASELINE_LABELS.afType, AF_TYPES, REFUSED_AF_TYPES),
  longestEpisodeDays: amount('longestEpisodeDays'),
  episodeEnding: choiceEntry(BASELINE_LABELS.episodeEnding, EPISODE_ENDINGS),
  afSinceYear: amount('afSinceYear'),
  symptomScore: choiceEntry(BASELINE_LABELS.symptomScore, SYMPTOM_SCORES),
  legalBasis: choiceEntry(BASELINE_LABELS.legalBasis, LEGAL_BASES),
  laDiameterMm: amount('laDiameterMm'),
  laVolumeIndexMlM2: amount('laVolumeIndexMlM2'),
  laAreaIndexCm2M2: amount('laAreaIndexCm2M2'),
  lvefPct: amount('lvefPct'),
  bmiKgM2: amount('bmiKgM2'),
  egfrMlMin173m2: amount('egfrMlMin173m2'),
  structuralHeartDisease: yesNo('structuralHeartDisease'),
  cardiomyopathy: yesNo('cardiomyopathy'),
  heartFailure: yesNo('heartFailure'),
  coronaryDisease: yesNo('coronaryDisease'),
  vascularDisease: yesNo('vascularDisease'),
  strokeHistory: yesNo('strokeHistory'),
  hypertension: yesNo('hypertension'),
  uncontrolledHypertension: yesNo('uncontrolledHypertension'),
  diabetes: yesNo('diabetes'),
  metabolicSyndrome: yesNo('metabolicSyndrome'),
  copd: yesNo('copd'),
  sleepApnoea: yesNo('sleepApnoea'),
  smoker: yesNo('smoker'),
  bundleBranchBlock: yesNo('bundleBranchBlock'),
  renalDisease: yesNo('renalDisease'),
  liverDisease: yesNo('liverDisease'),
  bleedingHistory: yesNo('bleedingHistory'),
  labileInr: yesNo('labileInr'),
  antiplateletOrNsaid: yesNo('antiplateletOrNsaid'),
  alcoholExcess: yesNo('alcoholExcess'),
  priorCardioversions: amount('priorCardioversions'),
  failedAntiarrhythmics: amount('failedAntiarrhythmics'),
  drugs: choiceListEntry(BASELINE_LABELS.drugs, DRUGS),
  qualityInstrument: choiceEntry(BASELINE_LABELS.qualityInstrument, QUALITY_INSTRUMENTS),
  qualityScore: amount('qualityScore'),
});
type BaselineForm = z.output<typeof baselineEntries>;

const asked = Object.keys(baselineEntries.shape) as (keyof BaselineForm)[];

/** Every field empty. */
export const emptyBaseline: z.input<typeof baselineEntries> = Object.fromEntries(
  asked.map((name) => [name, name === 'drugs' ? [] : '']),
);
