import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import {
  estimateFollowUpCompleteness,
  estimateReverseKaplanMeier,
  type NotEstimable,
  type QuantileLimit,
  summariseFollowUp,
  survivalQuantile,
} from '@/lib/statistics';
import { differences, loadCases } from '../reference-cases';
import { estimated } from './estimated';

const numbers = z.array(z.number());
const quartiles = z.array(z.number().nullable());
const shape = z.object({
  data: z.object({ time: numbers, status: numbers, potential: numbers.optional() }),
  expected: z.looseObject({
    reverseKM: z.object({
      time: numbers,
      surv: numbers,
      quartiles,
      lowerLog: quartiles,
      upperLog: quartiles,
    }),
    reverseKMprodlim: z.object({ time: numbers, surv: numbers }),
    medianTimeAll: z.number(),
    medianTimeCensored: z.number().nullable(),
    personTime: z.number(),
  }),
});
const completeness = z.object({
  clarkC: z.number(),
  clarkPotentialUsed: numbers,
  simplifiedPersonTime: z.number(),
  percentageMethod: z.number(),
});

const dayOf = (limit: QuantileLimit | NotEstimable): number | null =>
  limit.kind === 'reached' ? limit.timeDays : null;
const orNull = (value: number | NotEstimable): number | null => (typeof value === 'number' ? value : null);

const cases = loadCases('followup_completeness', shape);

describe.each(cases)('$id ($rCall)', ({ data, expected, tolerance }) => {
  const rows = { timeDays: data.time, event: data.status };

  it('agrees on the curve of follow-up and its quartiles', () => {
    const curve = estimateReverseKaplanMeier(rows, { limits: 'log' });
    const found = [0.25, 0.5, 0.75].map((p) => survivalQuantile(curve, p));
    const limits = found.map((q) => (q.kind === 'notEstimable' ? { lower: q, upper: q } : q));
    const { reverseKM } = expected;
    expect(found.map(dayOf)).toEqual(reverseKM.quartiles);
    expect(limits.map(({ lower }) => dayOf(lower))).toEqual(reverseKM.lowerLog);
    expect(limits.map(({ upper }) => dayOf(upper))).toEqual(reverseKM.upperLog);
    expect([
      ...differences('time', curve.timeDays, reverseKM.time, tolerance),
      ...differences('S', curve.survival, reverseKM.surv, tolerance),
    ]).toEqual([]);
  });

  it('agrees on the curve of censoring with events gone first', () => {
    const curve = estimateReverseKaplanMeier(rows, { tiedEvents: 'gone' });
    // The package has no curve when nobody is censored; ours stays at 1.
    if (expected.reverseKMprodlim.time.length === 0) {
      expect(curve.eventTotal).toBe(0);
      return;
    }
    expect([
      ...differences('time', curve.timeDays, expected.reverseKMprodlim.time, tolerance),
      ...differences('G', curve.survival, expected.reverseKMprodlim.surv, tolerance),
    ]).toEqual([]);
  });

  it('agrees on medians and person-time', () => {
    const summary = summariseFollowUp(rows);
    expect(orNull(summary.medianDays)).toBe(expected.medianTimeAll);
    expect(orNull(summary.medianDaysOfCensored)).toBe(expected.medianTimeCensored);
    expect(differences('person-time', [summary.personDays], [expected.personTime], tolerance)).toEqual([]);
  });
});

const withPotential = cases.flatMap(({ id, rCall, data, expected, tolerance }) => {
  const { potential } = data;
  return potential
    ? [
        {
          id,
          rCall,
          rows: { timeDays: data.time, event: data.status, potentialDays: potential },
          expected,
          tolerance,
        },
      ]
    : [];
});

it.each(withPotential)('$id agrees on completeness', ({ rows, expected, tolerance }) => {
  const found = estimated(estimateFollowUpCompleteness(rows));
  const { clarkC, clarkPotentialUsed, simplifiedPersonTime, percentageMethod } = completeness.parse(expected);
  const got = [found.clarkIndex, found.simplifiedPersonTime, found.completeShare];
  expect([
    ...differences(
      'index, simplified, share',
      got,
      [clarkC, simplifiedPersonTime, percentageMethod],
      tolerance,
    ),
    ...differences('potential', found.potentialUsedDays, clarkPotentialUsed, tolerance),
  ]).toEqual([]);
});
