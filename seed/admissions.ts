import type { AfType, Sex } from '../lib/registry/vocabulary';
import { intendedWeights } from './assignment';
import { type LabDay, yearsOf } from './calendar';
import type { Risk } from './hazard';
import {
  type Compared,
  type Delivered,
  LABELS,
  type OperatorCode,
  PATIENTS,
  RECURRENCE,
  WEEKS,
} from './parameters';
import { type RandomStream, streamOf } from './random';

/** A patient at the first ablation, as they truly are: nothing is missing here. */
export interface Admission extends Risk {
  readonly index: number;
  readonly day: LabDay;
  readonly sex: Sex;
  readonly lvefPct: number;
  readonly intended: Compared;
  readonly delivered: Delivered;
}

/** The first ablations of one lab, in calendar order. The same function makes the demo lab and the labs of its truth. */
export function* admissionsOf(stream: RandomStream, patients = PATIENTS): Generator<Admission> {
  const cases: Record<OperatorCode, number> = { ...RECURRENCE.casesBefore };
  for (const [index, day] of admissionDays(stream, patients).entries()) {
    const calendarYears = yearsOf(day);
    const operator = stream.choose(operatorWeights(calendarYears));
    const person = personAt(stream, calendarYears);
    const risk: Risk = { ...person, operator, operatorCases: cases[operator], calendarYears };
    const intended = stream.choose(intendedWeights(risk));
    const delivered = deliveredFrom(stream, intended);
    cases[operator] += 1;
    yield { ...risk, ...person, index, day, intended, delivered };
  }
}

/** What is delivered under a label. */
export function deliveredFrom(stream: RandomStream, intended: Compared): Delivered {
  const weights: Partial<Record<Delivered, number>> = LABELS.delivered[intended];
  return stream.choose({
    ostial: 0,
    'wide-encircling': 0,
    'wide-with-lines': 0,
    'single-shot': 0,
    mixed: 0,
    ...weights,
  });
}

/** Working days in order; the lab grows by about a third over its years. */
function admissionDays(stream: RandomStream, patients: number): LabDay[] {
  const growth = 0.35;
  const shares = Array.from({ length: patients }, () => {
    const used = stream.uniform() * (1 + growth / 2);
    return (Math.sqrt(1 + 2 * growth * used) - 1) / growth;
  });
  return shares
    .map((share) => Math.min(Math.floor(share * WEEKS * 5), WEEKS * 5 - 1))
    .sort((a, b) => a - b)
    .map((working) => 7 * Math.floor(working / 5) + (working % 5));
}

/** OP-3 joins in the third year. */
export function operatorWeights(years: number): Record<OperatorCode, number> {
  const weights = { 'OP-1': 0.55, 'OP-2': 0.45, 'OP-3': 0 };
  if (years >= 2) Object.assign(weights, { 'OP-1': 0.4, 'OP-2': 0.34, 'OP-3': 0.26 });
  return weights;
}

type Person = Pick<
  Admission,
  'ageYears' | 'sex' | 'afType' | 'laDiameterMm' | 'structuralHeartDisease' | 'lvefPct'
>;

const PERSISTENT_KINDS: Record<Exclude<AfType, 'paroxysmal'>, number> = {
  'early-persistent': 0.25,
  persistent: 0.52,
  'long-standing-persistent': 0.23,
};

const within = (low: number, value: number, high: number): number => Math.min(high, Math.max(low, value));

/** Patients grow older and sicker over the years: more persistent AF, larger atria. */
function personAt(stream: RandomStream, years: number): Person {
  const late = years / 7;
  const isPersistent = stream.happens(0.3 + 0.24 * late);
  const afType = isPersistent ? stream.choose(PERSISTENT_KINDS) : 'paroxysmal';
  const ageYears = Math.floor(within(24, stream.normal(59.5 + 3 * late + (isPersistent ? 2 : 0), 9.5), 87));
  const sex = stream.happens(0.32 + 0.005 * (ageYears - 60)) ? 'female' : 'male';
  const mean = 40 + late + (isPersistent ? 4 : 0) + (afType === 'long-standing-persistent' ? 2.5 : 0);
  const laDiameterMm = Math.round(within(27, stream.normal(mean + 0.06 * (ageYears - 60), 4.8), 66));
  const logit = -1.8 + (isPersistent ? 0.6 : 0) + 0.03 * (ageYears - 60);
  const structuralHeartDisease = stream.happens(1 / (1 + Math.exp(-logit)));
  const lvefPct = Math.round(within(20, stream.normal(structuralHeartDisease ? 51 : 60, 6), 75));
  return { ageYears, sex, afType, laDiameterMm, structuralHeartDisease, lvefPct };
}

/** Share of a year since the last birthday at the first ablation: ages at repeats and the birth year follow from it. */
export const birthdayPhase = (seed: number, index: number): number =>
  streamOf(seed, 'identity', index, 3).between(0.01, 0.99);
