import fc from 'fast-check';
import { expect, it } from 'vitest';
import { estimateKaplanMeier, survivalAt, testSurvivalDifference } from '@/lib/statistics';
import { followUp } from './follow-up';

const times = fc.array(fc.integer({ min: 0, max: 35 }), { minLength: 1, maxLength: 5 });

it('turns over when the groups change places, and reads the curves', () => {
  fc.assert(
    fc.property(followUp(), followUp(), times, (one, other, asked) => {
      const first = estimateKaplanMeier({ timeDays: one.timeDays, event: one.event });
      const second = estimateKaplanMeier({ timeDays: other.timeDays, event: other.event });
      const back = testSurvivalDifference(second, first, asked);
      const values = [survivalAt(first, asked), survivalAt(second, asked)];
      for (const [i, there] of testSurvivalDifference(first, second, asked).entries()) {
        const here = back[i];
        const [a, b] = values.map((points) => points[i]);
        if (there.kind !== 'estimated' || here.kind !== 'estimated') throw new Error('expected a difference');
        if (a.kind !== 'estimated' || b.kind !== 'estimated') throw new Error('expected values');
        expect([there.first, there.second]).toEqual([a.survival, b.survival]);
        expect(there.beyondFollowUp).toBe(a.beyondFollowUp || b.beyondFollowUp);
        expect(here.difference).toBe(b.survival - a.survival);
        expect([here.plain.kind, here.logLog.kind]).toEqual([there.plain.kind, there.logLog.kind]);
        if (there.plain.kind === 'tested' && here.plain.kind === 'tested') {
          expect(here.plain.z).toBeCloseTo(-there.plain.z, 12);
          expect(here.plain.lower).toBeCloseTo(-there.plain.upper, 12);
        }
        if (there.logLog.kind === 'tested' && here.logLog.kind === 'tested') {
          expect(here.logLog.z).toBeCloseTo(-there.logLog.z, 12);
          // The lower curve is the one with more events: the two tests point the same way.
          expect(Math.sign(there.logLog.z)).toBe(Math.sign(there.second - there.first));
        }
      }
    }),
  );
});

it('without censoring is the difference of two proportions with its unpooled variance', () => {
  fc.assert(
    fc.property(followUp(), followUp(), times, (one, other, asked) => {
      const [first, second] = [one, other].map(({ timeDays }) =>
        estimateKaplanMeier({ timeDays, event: timeDays.map(() => 1) }),
      );
      for (const found of testSurvivalDifference(first, second, asked)) {
        if (found.kind !== 'estimated' || found.plain.kind !== 'tested') continue;
        const parts = [one, other].map(({ timeDays }) => {
          const share = timeDays.filter((time) => time > found.timeDays).length / timeDays.length;
          return { share, variance: (share * (1 - share)) / timeDays.length };
        });
        expect(found.difference).toBeCloseTo(parts[0].share - parts[1].share, 12);
        expect(found.plain.standardError ** 2).toBeCloseTo(parts[0].variance + parts[1].variance, 12);
      }
    }),
  );
});
