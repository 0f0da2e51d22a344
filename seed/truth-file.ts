import { OSTIAL_ENDS, SINGLE_SHOT_BEGINS } from './assignment';
import { LAST_DAY } from './calendar';
import { PALPITATIONS_PER_YEAR } from './contacts';
import { SHORT_RUN_SHARE } from './detection';
import { COMPLICATION_RATES, complicationProbability, PLANTED_RISE, QUIET_CONTROL } from './harm';
import { OPEN_SHARE } from './lesions';
import type { ObservedTruth } from './observed';
import {
  COMPARED,
  DEATH,
  DELIVERED,
  DEMO_SEED,
  DETECTION,
  FOLLOW_UP,
  LAB_DAYS,
  LABELS,
  MISSING,
  PATIENTS,
  RECURRENCE,
  TREATMENT,
  VERSION,
} from './parameters';
import { type FreedomTruth, rounded } from './truth';

/** Whole labs of the committed truth: 715 x 1400 patients, a little over a million. */
export const TRUTH_LABS = 715;
export const TRUTH_SEED = 730_365;
export const OBSERVED_LABS = 40;

/** The pair whose patients could plausibly have had either, and the one whose patients could not. */
const OVERLAPPING_PAIR = ['wide-encircling', 'wide-with-lines'] as const;
const DISJOINT_PAIR = ['ostial', 'single-shot'] as const;

/** Everything that is true of the demo lab, as written to truth.json. Shares are fractions, hazards are log ratios, days are days. */
export function truthOf(freedom: FreedomTruth, observed: ObservedTruth) {
  const { logHazardRatio: effects, ...process } = RECURRENCE;
  return {
    version: VERSION,
    seed: DEMO_SEED,
    patients: PATIENTS,
    days: LAB_DAYS,
    event:
      'First true AF, AT or AFL from day 91 after the first procedure, in continuous time, before detection; nobody dies or leaves.',
    simulation: { seed: TRUTH_SEED, patients: freedom.patients, decimals: 6 },
    freedom: {
      wholePopulation: freedom.wholePopulation,
      asTreated: freedom.asTreated,
      pairs: freedom.pairs,
    },
    overlappingPair: OVERLAPPING_PAIR,
    disjointPair: DISJOINT_PAIR,
    hazard: {
      form: 'H(w) = (w / scaleDays)^shape x exp(sum of log hazard ratios), w = days since day 90',
      ...process,
      conditionalLogHazardRatio: effects,
      conditionalHazardRatioAgainstOstial: Object.fromEntries(
        COMPARED.map((code) => [code, rounded(Math.exp(effects.strategy[code]))]),
      ),
      reference:
        'ostial, paroxysmal, LA 40 mm, age 60, no structural heart disease, OP-1, many cases done, first day of the lab',
      carriedBy:
        'the strategy delivered (derived from the lesions), not the label; open segments and drugs carry none',
      unmeasuredConfounding: 'none',
    },
    causes: {
      atAflShare: RECURRENCE.atAflShare,
      conditionalHazardRatioAgainstOstial: Object.fromEntries(
        COMPARED.map((code) => [code, causeRatios(code)]),
      ),
    },
    detection: {
      ...DETECTION,
      specificity: 1,
      shortRunShare: SHORT_RUN_SHARE,
      contactsForPalpitationsPerYear: PALPITATIONS_PER_YEAR,
      observed,
    },
    strategyShift: {
      note: 'Assignment depends on recorded covariates and calendar time only: seed/assignment.ts.',
      ostialEndsYear: OSTIAL_ENDS,
      singleShotBeginsYear: SINGLE_SHOT_BEGINS,
    },
    lesions: { openShare: OPEN_SHARE, effectOnRecurrence: 'none' },
    followUp: FOLLOW_UP,
    missing: {
      note: 'Shares in the first and the last year, linear between; missing depends on calendar time only.',
      share: MISSING,
    },
    labels: {
      ...LABELS,
      note: 'delivered: from the intended label to what the lesions show, first procedures; notDerivable: share of radiofrequency cases.',
    },
    deaths: DEATH,
    treatment: TREATMENT,
    complications: Object.fromEntries(
      COMPLICATION_RATES.map((entry) => [entry.type, { ratePerProcedure: entry.rate, ...entry.of }]),
    ),
    plantedRise: {
      ...PLANTED_RISE,
      daysBeforeTheLast: LAST_DAY - PLANTED_RISE.firstDay,
      rateBefore: riseRate(0),
      rateAfter: riseRate(LAST_DAY),
    },
    quietControl: {
      ...QUIET_CONTROL,
      ratePerProcedure: COMPLICATION_RATES.find(({ type }) => type === QUIET_CONTROL.type)?.rate,
    },
  };
}

/** Cause-specific hazards are proportional too, because the share of AT and AFL depends on the strategy only. */
function causeRatios(code: (typeof COMPARED)[number]) {
  const { atAflShare, logHazardRatio } = RECURRENCE;
  const all = Math.exp(logHazardRatio.strategy[code]);
  return {
    af: rounded((all * (1 - atAflShare[code])) / (1 - atAflShare.ostial)),
    atAfl: rounded((all * atAflShare[code]) / atAflShare.ostial),
  };
}

function riseRate(day: number): number {
  const entry = COMPLICATION_RATES.find(({ type }) => type === PLANTED_RISE.type);
  if (!entry) throw new Error('the planted rise has no rate');
  return rounded(complicationProbability(entry, DELIVERED[1], day));
}
