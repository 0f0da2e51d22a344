import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  estimateEventProbability,
  estimateLogRankEvents,
  estimateLogRankPower,
  estimateLogRankSampleSize,
  estimateProportionsPower,
  estimateProportionsSampleSize,
} from '@/lib/statistics';

const fraction = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const ratios = fraction(0.1, 10).filter((ratio) => Math.abs(Math.log(ratio)) > 0.01);
const powers = fraction(0.3, 0.99);

it('log-rank: the inverse ratio needs as many events, and the events give the power', () => {
  fc.assert(
    fc.property(ratios, powers, fraction(0.2, 5), (hazardRatio, power, allocationRatio) => {
      const design = { hazardRatio, power, allocationRatio };
      const found = estimateLogRankEvents(design);
      const inverse = estimateLogRankEvents({
        hazardRatio: 1 / hazardRatio,
        power,
        allocationRatio: 1 / allocationRatio,
      });
      if (found.kind !== 'estimated' || inverse.kind !== 'estimated') throw new Error('no events');
      expect(inverse.events / found.events).toBeCloseTo(1, 9);
      expect(estimateLogRankPower({ ...design, events: found.events })).toBeCloseTo(power, 9);
      expect(estimateLogRankPower({ ...design, events: found.events + 1 })).toBeGreaterThan(power);
    }),
  );
});

it('log-rank: longer watching needs fewer cases, never fewer than the events', () => {
  fc.assert(
    fc.property(
      ratios,
      powers,
      fraction(0.001, 2),
      fraction(0.1, 5),
      fraction(0, 5),
      (hazardRatio, power, hazardControl, accrual, followUp) => {
        const design = { hazardRatio, power };
        const plan = { kind: 'accrual', hazardControl, accrual, followUp } as const;
        const longer = { ...plan, followUp: followUp + 0.5 };
        const now = estimateLogRankSampleSize(design, plan);
        const later = estimateLogRankSampleSize(design, longer);
        if (now.kind !== 'estimated' || later.kind !== 'estimated') throw new Error('no cases');
        expect(later.cases).toBeLessThanOrEqual(now.cases);
        expect(now.cases).toBeGreaterThanOrEqual(now.events.events);
        expect(estimateEventProbability(longer, design).overall).toBeGreaterThanOrEqual(
          estimateEventProbability(plan, design).overall,
        );
        // Everybody watched just as long: accrual in a moment is a fixed time.
        const moment = estimateEventProbability({ ...plan, accrual: 1e-6, followUp: 1 }, design);
        const fixed = estimateEventProbability(
          { kind: 'fixed', survivalControl: Math.exp(-hazardControl) },
          design,
        );
        expect(moment.overall).toBeCloseTo(fixed.overall, 4);
      },
    ),
  );
});

it('proportions: events and non-events, first and second may change places; the cases give the power', () => {
  fc.assert(
    fc.property(
      fraction(0.01, 0.99),
      fraction(0.01, 0.99),
      powers,
      fc.constantFrom('pooled', 'arcsine', 'arcsineBothTails'),
      (first, second, power, formula) => {
        fc.pre(Math.abs(first - second) > 0.01);
        const sizeOf = (one: number, other: number): number => {
          const found = estimateProportionsSampleSize({ first: one, second: other, power }, { formula });
          if (found.kind !== 'estimated') throw new Error(found.reason);
          return found.perArm;
        };
        const perArm = sizeOf(first, second);
        expect(sizeOf(second, first) / perArm).toBeCloseTo(1, 9);
        expect(sizeOf(1 - first, 1 - second) / perArm).toBeCloseTo(1, 9);
        expect(estimateProportionsPower({ first, second, perArm }, { formula })).toBeCloseTo(power, 9);
      },
    ),
  );
});
