import { expect, it } from 'vitest';
import { z } from 'zod';
import {
  estimateEventProbability,
  estimateLogRankEvents,
  estimateLogRankPower,
  estimateLogRankSampleSize,
  estimateProportionsPower,
  estimateProportionsSampleSize,
} from '@/lib/statistics';
import { differencesFrom, keptCases } from '../kept-cases';
import { loadReference } from '../reference-cases';

const logRank = keptCases('samplesize_logrank');

it.each(logRank)('$id ($rCall)', (one) => {
  expect(differencesFrom(one)).toEqual([]);
});

it.each(keptCases('samplesize_proportions'))('$id ($rCall)', (one) => {
  expect(differencesFrom(one)).toEqual([]);
});

it('agrees with power.prop.test of R, and its power at the next whole number', () => {
  const { expected } = loadReference(
    'ss-prop-a',
    z.object({ expected: z.object({ nPowerPropTest: z.number(), powerAtCeil: z.number() }) }),
  );
  const size = estimateProportionsSampleSize({ first: 0.75, second: 0.6, power: 0.8 });
  if (size.kind !== 'estimated') throw new Error(size.reason);
  expect(size.perArm).toBeCloseTo(expected.nPowerPropTest, 8);
  const power = estimateProportionsPower({ first: 0.75, second: 0.6, perArm: size.wholePerArm });
  expect(power).toBeCloseTo(expected.powerAtCeil, 12);
});

it('needs the 133 deaths that Collett prints for survival of 0.41 against 0.60, the hazard ratio rounded to 0.57', () => {
  const published = loadReference(
    'pub-collett-events',
    z.object({
      data: z.object({ s0: z.number(), s1: z.number(), power: z.number() }),
      expected: z.object({ hr: z.number(), deaths: z.number() }),
      printed: z.object({ values: z.object({ hr: z.number(), deaths: z.number() }) }),
    }),
  );
  const { s0, s1, power } = published.data;
  const hazardRatio = Math.log(s1) / Math.log(s0);
  expect(hazardRatio).toBeCloseTo(published.expected.hr, 12);
  const rounded = Number(hazardRatio.toFixed(2));
  expect(rounded).toBe(published.printed.values.hr);
  const found = estimateLogRankEvents({ hazardRatio: rounded, power });
  if (found.kind !== 'estimated') throw new Error(found.reason);
  expect(found.events).toBeCloseTo(published.expected.deaths, 6);
  expect(Math.round(found.events)).toBe(published.printed.values.deaths);
});

it('needs the events, power and cases of the closed formulas at hazard ratio 0.6', () => {
  const { expected } = loadReference(
    'ss-lr-a',
    z.object({
      expected: z.object({
        powerSchoenfeldAtCeil: z.number(),
        eventProbAccrual: z.number(),
        nSchoenfeldAccrual: z.number(),
      }),
    }),
  );
  const design = { hazardRatio: 0.6, power: 0.8 };
  const plan = { kind: 'accrual', hazardControl: 0.04, accrual: 24, followUp: 12 } as const;
  expect(estimateLogRankPower({ ...design, events: 121 })).toBeCloseTo(expected.powerSchoenfeldAtCeil, 12);
  expect(estimateEventProbability(plan, design).overall).toBeCloseTo(expected.eventProbAccrual, 12);
  const size = estimateLogRankSampleSize(design, plan);
  if (size.kind !== 'estimated') throw new Error(size.reason);
  expect(size.cases).toBeCloseTo(expected.nSchoenfeldAccrual, 8);
});
