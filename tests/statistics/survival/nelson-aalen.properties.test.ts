import fc from 'fast-check';
import { expect, it } from 'vitest';
import { estimateKaplanMeier, estimateNelsonAalen } from '@/lib/statistics';
import { followUp, reversed } from './follow-up';

it('does not depend on the order of the rows', () => {
  fc.assert(
    fc.property(followUp(), ({ timeDays, event, ...rest }) => {
      const other = reversed({ timeDays, event, ...rest });
      expect(estimateNelsonAalen({ timeDays: other.timeDays, event: other.event })).toEqual(
        estimateNelsonAalen({ timeDays, event }),
      );
    }),
  );
});

it('gives the cases together as much hazard as there were events', () => {
  fc.assert(
    fc.property(followUp(), ({ timeDays, event }) => {
      const curve = estimateNelsonAalen({ timeDays, event });
      const hazardOf = (time: number): number => curve.cumulativeHazard[curve.timeDays.indexOf(time)];
      const sum = timeDays.reduce((total, time) => total + hazardOf(time), 0);
      expect(sum).toBeCloseTo(curve.eventTotal, 9);
    }),
  );
});

it('never falls, and exp(-H) lies above Kaplan-Meier, further with ties together', () => {
  fc.assert(
    fc.property(followUp(), fc.boolean(), ({ timeDays, event, entryDays }, delayed) => {
      const data = delayed ? { timeDays, event, entryDays } : { timeDays, event };
      const together = estimateNelsonAalen(data);
      const oneByOne = estimateNelsonAalen(data, { ties: 'one-by-one' });
      const { survival } = estimateKaplanMeier(data);
      let previous = 0;
      for (const [i, h] of together.cumulativeHazard.entries()) {
        expect(h).toBeGreaterThanOrEqual(previous);
        previous = h;
        expect(together.survival[i]).toBeGreaterThanOrEqual(oneByOne.survival[i]);
        expect(oneByOne.survival[i]).toBeGreaterThan(survival[i] - 1e-15);
        expect(together.lower[i]).toBeLessThanOrEqual(h);
        expect(together.upper[i]).toBeGreaterThanOrEqual(h);
      }
    }),
  );
});

it('takes ties one by one as if each had come a moment after the other', () => {
  fc.assert(
    fc.property(followUp(), ({ timeDays, event }) => {
      // Events of a day apart by hundredths, censorings after them all.
      const seen = new Map<number, number>();
      const spread = timeDays.map((time, i) => {
        if (event[i] === 0) return time + 0.9;
        seen.set(time, (seen.get(time) ?? 0) + 1);
        return time + (seen.get(time) ?? 0) / 100;
      });
      const apart = estimateNelsonAalen({ timeDays: spread, event });
      const oneByOne = estimateNelsonAalen({ timeDays, event }, { ties: 'one-by-one' });
      expect(oneByOne.cumulativeHazard.at(-1)).toBeCloseTo(apart.cumulativeHazard.at(-1) ?? 0, 12);
      expect(oneByOne.standardError.at(-1)).toBeCloseTo(apart.standardError.at(-1) ?? 0, 12);
    }),
  );
});
