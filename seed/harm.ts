import { type ComplicationCode, type Harm, severityOf } from '../lib/registry/complications';
import { LAST_DAY, type LabDay } from './calendar';
import { DEATH, type Delivered } from './parameters';
import type { RandomStream } from './random';

/** A complication as it happened. */
export interface Harmed {
  readonly type: ComplicationCode;
  readonly severity: 'major' | 'minor';
  readonly harms: readonly Harm[];
  readonly onsetDay: LabDay;
  readonly resolvedDay: LabDay | null;
}

interface Rate {
  readonly type: ComplicationCode;
  /** Per procedure. */
  readonly rate: number;
  /** Where a strategy's own rate differs. */
  readonly of?: Partial<Record<Delivered, number>>;
  /** First and last day of onset after the procedure. */
  readonly onset: readonly [number, number];
  /** What came of it, each with its share. */
  readonly harms?: Partial<Record<Harm, number>>;
  readonly lastsDays: number;
}

/** Rates per procedure, of the order that large published series report; they do not depend on operator or patient. */
export const COMPLICATION_RATES: readonly Rate[] = [
  {
    type: 'tamponade',
    rate: 0.01,
    onset: [0, 2],
    harms: { intervention: 0.8, 'stay-over-48h': 0.7 },
    lastsDays: 6,
  },
  { type: 'effusion-minor', rate: 0.008, onset: [0, 5], lastsDays: 12 },
  { type: 'stroke', rate: 0.002, onset: [0, 4], harms: { 'permanent-injury': 0.4 }, lastsDays: 90 },
  { type: 'tia', rate: 0.002, onset: [0, 6], harms: { readmission: 0.3 }, lastsDays: 1 },
  {
    type: 'haematoma',
    rate: 0.016,
    onset: [0, 4],
    harms: { transfusion: 0.12, intervention: 0.06, 'stay-over-48h': 0.15 },
    lastsDays: 14,
  },
  { type: 'pseudo-aneurysm', rate: 0.005, onset: [0, 7], harms: { intervention: 0.5 }, lastsDays: 15 },
  { type: 'av-fistula', rate: 0.002, onset: [0, 14], harms: { intervention: 0.3 }, lastsDays: 45 },
  {
    type: 'pericarditis',
    rate: 0.012,
    onset: [1, 10],
    harms: { readmission: 0.2, 'over-30-days': 0.06 },
    lastsDays: 16,
  },
  {
    type: 'phrenic-paralysis',
    rate: 0.001,
    of: { 'single-shot': 0.022 },
    onset: [0, 0],
    harms: { 'over-30-days': 0.4 },
    lastsDays: 110,
  },
  {
    type: 'pv-stenosis-severe',
    rate: 0.001,
    of: { ostial: 0.009, mixed: 0.004 },
    onset: [60, 88],
    harms: { intervention: 0.6 },
    lastsDays: 120,
  },
  { type: 'pv-stenosis', rate: 0.003, of: { ostial: 0.014, mixed: 0.008 }, onset: [60, 88], lastsDays: 400 },
  {
    type: 'atrio-oesophageal-fistula',
    rate: 0.0003,
    onset: [8, 30],
    harms: { intervention: 0.8 },
    lastsDays: 60,
  },
  { type: 'oesophageal-lesion', rate: 0.004, onset: [1, 4], lastsDays: 20 },
  {
    type: 'gastric-hypomotility',
    rate: 0.004,
    onset: [0, 6],
    harms: { readmission: 0.2, 'over-30-days': 0.2 },
    lastsDays: 40,
  },
  { type: 'volume-overload', rate: 0.005, onset: [0, 2], harms: { 'stay-over-48h': 0.3 }, lastsDays: 4 },
  { type: 'arrhythmia-admission', rate: 0.006, onset: [3, 60], harms: { readmission: 1 }, lastsDays: 3 },
  { type: 'death', rate: 0.0005, onset: [0, 25], harms: { death: 1 }, lastsDays: 0 },
];

/** One complication rises in the last months: the odds are multiplied from the first day on. */
export const PLANTED_RISE = { type: 'haematoma', firstDay: LAST_DAY - 510, oddsRatio: 3 } as const;
/** One that never changes: same rate for every case. */
export const QUIET_CONTROL = { type: 'tamponade' } as const;

/** Probability of a complication for a procedure on a day. */
export function complicationProbability(entry: Rate, delivered: Delivered, day: LabDay): number {
  const usual = entry.of?.[delivered] ?? entry.rate;
  if (entry.type !== PLANTED_RISE.type || day < PLANTED_RISE.firstDay) return usual;
  const odds = (PLANTED_RISE.oddsRatio * usual) / (1 - usual);
  return odds / (1 + odds);
}

/** Complications of a procedure on `day`, as far as they began by `until`. */
export function drawHarm(stream: RandomStream, day: LabDay, delivered: Delivered, until: LabDay): Harmed[] {
  return COMPLICATION_RATES.flatMap((entry) => {
    const doesHappen = stream.happens(complicationProbability(entry, delivered, day));
    const onsetDay =
      day + Math.floor(entry.onset[0] + (entry.onset[1] - entry.onset[0] + 1) * stream.uniform() ** 1.6);
    const harms = harmsOf(entry).flatMap(([harm, share]) => (stream.happens(share) ? [harm] : []));
    const { severity } = severityOf(entry.type, harms);
    const lasted = Math.ceil(stream.exponential(Math.max(1, entry.lastsDays)));
    const resolved = onsetDay + (harms.includes('over-30-days') ? Math.max(31, lasted) : lasted);
    const isOpen = severity === 'major' && stream.happens(0.12);
    if (!doesHappen || onsetDay > until) return [];
    const resolvedDay = isOpen || resolved > until || entry.type === 'death' ? null : resolved;
    return [{ type: entry.type, severity, harms, onsetDay, resolvedDay }];
  });
}

function harmsOf(entry: Rate): [Harm, number][] {
  const order: Harm[] = [
    'death',
    'permanent-injury',
    'intervention',
    'stay-over-48h',
    'readmission',
    'transfusion',
    'over-30-days',
  ];
  return order.flatMap((harm) => {
    const share = entry.harms?.[harm];
    return share === undefined ? [] : [[harm, share]];
  });
}

/** The day of death from anything but the procedure; most lie far beyond the lab's last day. */
export function drawDeathDay(
  stream: RandomStream,
  day: LabDay,
  patient: { ageYears: number; lvefPct: number; structuralHeartDisease: boolean },
): LabDay {
  const growth = DEATH.logPerYearOfAge;
  const rate =
    DEATH.perYearAt65 *
    Math.exp(growth * (patient.ageYears - 65)) *
    (patient.lvefPct < 40 ? DEATH.lowEjectionFraction : 1) *
    (patient.structuralHeartDisease ? DEATH.structuralHeartDisease : 1);
  // Gompertz: the rate grows with age.
  const years = Math.log(1 + (growth * stream.exponential(1)) / rate) / growth;
  return day + 1 + Math.floor(years * 365.25);
}
