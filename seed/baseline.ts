import type { Admission } from './admissions';
import { LAST_DAY, type LabDay } from './calendar';
import { MISSING, type Missable } from './parameters';
import { type RandomStream, streamOf } from './random';

/** What a patient brings along, complete; `forget` then leaves out what was never written down. */
export interface Background {
  readonly laVolumeIndexMlM2: number;
  readonly bmiKgM2: number;
  readonly egfrMlMin173m2: number;
  readonly longestEpisodeDays: number;
  readonly episodeEnding: string;
  readonly afYears: number;
  readonly symptomScore: string;
  readonly heartFailure: boolean;
  readonly hypertension: boolean;
  readonly diabetes: boolean;
  readonly strokeHistory: boolean;
  readonly vascularDisease: boolean;
  readonly coronaryDisease: boolean;
  readonly copd: boolean;
  readonly sleepApnoea: boolean;
  readonly smoker: boolean;
  readonly priorCardioversions: number;
  readonly failedAntiarrhythmics: number;
}

const clamp = (low: number, value: number, high: number): number => Math.min(high, Math.max(low, value));
const tenths = (value: number): number => Math.round(value * 10) / 10;

/** Covariates that play no part in the hazard; they follow age, AF type and heart disease in a plausible way. */
export function drawBackground(seed: number, admission: Admission): Background {
  const stream = streamOf(seed, 'baseline', admission.index);
  const { ageYears, afType, structuralHeartDisease: diseased, laDiameterMm, lvefPct } = admission;
  const isPersistent = afType !== 'paroxysmal';
  const older = (ageYears - 60) / 10;
  const rises = (at60: number, perDecade: number) =>
    stream.happens(clamp(0.01, at60 + perDecade * older, 0.95));
  const coronaryDisease = rises(diseased ? 0.35 : 0.06, 0.05);
  return {
    laVolumeIndexMlM2: tenths(clamp(15, stream.normal(36 + 1.3 * (laDiameterMm - 41), 8), 110)),
    bmiKgM2: tenths(clamp(17, stream.normal(27.6 + (isPersistent ? 1 : 0), 4.2), 52)),
    egfrMlMin173m2: Math.round(clamp(18, stream.normal(82 - 8 * older, 15), 130)),
    ...episodeOf(stream, admission),
    afYears: Math.min(ageYears - 15, Math.floor(stream.exponential(4.5))),
    symptomScore: stream.choose(isPersistent ? SYMPTOMS.persistent : SYMPTOMS.paroxysmal),
    heartFailure: rises(diseased || lvefPct < 45 ? 0.34 : 0.04, 0.03),
    hypertension: rises(0.52, 0.1),
    diabetes: rises(0.11, 0.03),
    strokeHistory: rises(0.06, 0.02),
    vascularDisease: coronaryDisease || rises(0.05, 0.04),
    coronaryDisease,
    copd: rises(0.05, 0.02),
    sleepApnoea: rises(0.15, 0.02),
    smoker: rises(0.14, -0.04),
    priorCardioversions: Math.min(12, Math.floor(stream.exponential(isPersistent ? 2 : 0.6))),
    failedAntiarrhythmics: Math.min(4, Math.floor(stream.exponential(1.6))),
  };
}

const SYMPTOMS = {
  paroxysmal: { '1': 0.05, '2a': 0.22, '2b': 0.4, '3': 0.3, '4': 0.03 },
  persistent: { '1': 0.1, '2a': 0.3, '2b': 0.33, '3': 0.24, '4': 0.03 },
};

function episodeOf(stream: RandomStream, { afType }: Admission) {
  const [low, high] = {
    paroxysmal: [1, 7],
    'early-persistent': [8, 89],
    persistent: [92, 365],
    'long-standing-persistent': [367, 2200],
  }[afType];
  const longestEpisodeDays = Math.round(low + (high - low) * stream.uniform() ** 1.5);
  const endings =
    afType === 'paroxysmal'
      ? { 'by-itself': 0.78, drug: 0.14, shock: 0.08, ablation: 0, unknown: 0 }
      : { 'by-itself': 0, drug: 0.06, shock: 0.54, ablation: 0.34, unknown: 0.06 };
  return { longestEpisodeDays, episodeEnding: stream.choose(endings) };
}

/** Share of a value that is missing at a day of the lab. */
export function missingShareAt(field: Missable, day: LabDay): number {
  const [first, last] = MISSING[field];
  return first + (last - first) * (day / LAST_DAY);
}

/** The value, or null when it was never written down; missing depends on calendar time only. */
export function forget<Value>(
  stream: RandomStream,
  field: Missable,
  day: LabDay,
  value: Value,
): Value | null {
  return stream.happens(missingShareAt(field, day)) ? null : value;
}
