import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  estimateKaplanMeier,
  estimateRestrictedMean,
  estimateRestrictedMeanContrast,
} from '@/lib/statistics';
import { followUp } from './follow-up';

const horizon = fc.integer({ min: 1, max: 40 });

it('without censoring is the mean of the times cut at the horizon, with its standard error', () => {
  fc.assert(
    fc.property(followUp(), horizon, ({ timeDays }, to) => {
      const n = timeDays.length;
      const cut = timeDays.map((time) => Math.min(time, to));
      const mean = cut.reduce((a, b) => a + b, 0) / n;
      const spread = cut.reduce((sum, time) => sum + (time - mean) ** 2, 0) / n;
      const result = estimateRestrictedMean(
        estimateKaplanMeier({ timeDays, event: timeDays.map(() => 1) }),
        to,
      );
      if (result.kind !== 'estimated') throw new Error(result.reason);
      expect(result.meanDays).toBeCloseTo(mean, 10);
      expect(result.variance).toBeCloseTo(spread / n, 9);
    }),
  );
});

it('grows with the horizon by no more than the horizon, and scales with the unit of time', () => {
  fc.assert(
    fc.property(
      followUp(),
      horizon,
      horizon,
      fc.boolean(),
      ({ timeDays, event, entryDays }, a, b, delayed) => {
        const data = delayed ? { timeDays, event, entryDays } : { timeDays, event };
        const [early, late] = [Math.min(a, b), Math.max(a, b)];
        const curve = estimateKaplanMeier(data);
        const first = estimateRestrictedMean(curve, early);
        const second = estimateRestrictedMean(curve, late);
        if (first.kind !== 'estimated' || second.kind !== 'estimated') {
          expect(second.kind).toBe('notEstimable');
          return;
        }
        expect(second.meanDays).toBeGreaterThanOrEqual(first.meanDays - 1e-12);
        expect(second.meanDays - first.meanDays).toBeLessThanOrEqual(late - early + 1e-12);
        expect(second.meanDays + second.lostDays).toBeCloseTo(late, 12);
        const weeks = estimateRestrictedMean(
          estimateKaplanMeier({
            timeDays: timeDays.map((t) => t / 7),
            event,
            ...(delayed ? { entryDays: entryDays.map((t) => t / 7) } : {}),
          }),
          late / 7,
        );
        if (weeks.kind !== 'estimated') throw new Error(weeks.reason);
        expect(weeks.meanDays * 7).toBeCloseTo(second.meanDays, 10);
        expect(weeks.variance * 49).toBeCloseTo(second.variance, 9);
      },
    ),
  );
});

it('contrasts turn over when the groups change places', () => {
  fc.assert(
    fc.property(followUp(), followUp(), horizon, (one, other, to) => {
      const [first, second] = [one, other].map(({ timeDays, event }) =>
        estimateRestrictedMean(estimateKaplanMeier({ timeDays, event }), to),
      );
      if (first.kind !== 'estimated' || second.kind !== 'estimated') return;
      const forth = estimateRestrictedMeanContrast(first, second);
      const back = estimateRestrictedMeanContrast(second, first);
      for (const key of ['difference', 'ratio', 'lostRatio'] as const) {
        const [there, here] = [forth[key], back[key]];
        expect(there.kind).toBe(here.kind);
        if (there.kind !== 'estimated' || here.kind !== 'estimated') continue;
        expect(there.z).toBeCloseTo(-here.z, 9);
        expect(there.pValue).toBeCloseTo(here.pValue, 9);
        if (key === 'difference') expect(there.lower).toBeCloseTo(-here.upper, 9);
        else expect(Math.log(there.lower)).toBeCloseTo(-Math.log(here.upper), 9);
      }
    }),
  );
});
