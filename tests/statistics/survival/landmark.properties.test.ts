import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  estimateConditionalSurvival,
  estimateKaplanMeier,
  type SurvivalLimits,
  selectAtLandmark,
  survivalAt,
} from '@/lib/statistics';
import { followUp } from './follow-up';

const day = fc.integer({ min: 0, max: 31 });
const scale = fc.constantFrom<SurvivalLimits>('plain', 'log', 'log-log', 'logit', 'arcsin');

it('the curve after a landmark is the conditional survival of the whole curve, limits included', () => {
  fc.assert(
    fc.property(followUp(), day, day, scale, fc.boolean(), (data, from, later, limits, delayed) => {
      const { timeDays, event, entryDays } = data;
      const rows = delayed ? { timeDays, event, entryDays } : { timeDays, event };
      const whole = estimateKaplanMeier(rows, { limits });
      const [conditional] = estimateConditionalSurvival(whole, from, [later]);
      const [direct] = survivalAt(estimateKaplanMeier(selectAtLandmark(rows, from), { limits }), [later]);
      if (conditional.kind === 'notEstimable') {
        expect(['curveAtZero', 'nobodyLeft']).toContain(conditional.code);
        return;
      }
      if (direct.kind === 'notEstimable') throw new Error(direct.reason);
      expect(conditional.survival).toBeCloseTo(direct.survival, 12);
      expect(conditional.beyondFollowUp).toBe(direct.beyondFollowUp);
      if (conditional.interval.kind === 'notEstimable' || direct.interval.kind === 'notEstimable') {
        expect(conditional.interval).toEqual(direct.interval);
        return;
      }
      expect(conditional.interval.standardError).toBeCloseTo(direct.interval.standardError, 12);
      expect(conditional.interval.lower).toBeCloseTo(direct.interval.lower, 10);
      expect(conditional.interval.upper).toBeCloseTo(direct.interval.upper, 10);
    }),
  );
});

it('from day 0, before any event, is the curve itself', () => {
  fc.assert(
    fc.property(followUp(), day, ({ timeDays, event }, later) => {
      const curve = estimateKaplanMeier({ timeDays, event });
      const [conditional] = estimateConditionalSurvival(curve, 0, [later]);
      const [point] = survivalAt(curve, [later]);
      expect(conditional).toMatchObject({ survival: point.kind === 'estimated' ? point.survival : -1 });
    }),
  );
});

it('two landmarks one after the other are the later one', () => {
  fc.assert(
    fc.property(followUp(), day, day, ({ timeDays, event, entryDays }, a, b) => {
      const rows = { timeDays, event, entryDays };
      const once = selectAtLandmark(rows, a + b);
      const twice = selectAtLandmark(selectAtLandmark(rows, a), b);
      expect(twice.timeDays).toEqual(once.timeDays);
      expect(twice.entryDays).toEqual(once.entryDays);
      expect(once.n).toBe(timeDays.filter((time) => time > a + b).length);
    }),
  );
});
