import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  estimateFollowUpCompleteness,
  estimateKaplanMeier,
  estimateReverseKaplanMeier,
  summariseFollowUp,
} from '@/lib/statistics';
import { followUp, reversed } from './follow-up';

it('reverse Kaplan-Meier is the curve with the codes exchanged', () => {
  fc.assert(
    fc.property(followUp(), fc.boolean(), ({ timeDays, event, entryDays }, delayed) => {
      const entry = delayed ? { entryDays } : {};
      const exchanged = estimateKaplanMeier({ timeDays, event: event.map((code) => 1 - code), ...entry });
      expect(estimateReverseKaplanMeier({ timeDays, event, ...entry })).toEqual(exchanged);
    }),
  );
});

it('with events gone first, times Kaplan-Meier, is the share still observed', () => {
  fc.assert(
    fc.property(followUp(), ({ timeDays, event }) => {
      const event0 = estimateKaplanMeier({ timeDays, event });
      const censoring = estimateReverseKaplanMeier({ timeDays, event }, { tiedEvents: 'gone' });
      for (const [i, time] of event0.timeDays.entries()) {
        const share = timeDays.filter((t) => t > time).length / timeDays.length;
        expect(event0.survival[i] * censoring.survival[i]).toBeCloseTo(share, 12);
      }
    }),
  );
});

it('both ways of ties agree when no event shares its time with a censoring', () => {
  fc.assert(
    fc.property(followUp(), ({ timeDays, event }) => {
      const apart = { timeDays: timeDays.map((time, i) => 2 * time + event[i]), event };
      const atRisk = estimateReverseKaplanMeier(apart);
      const gone = estimateReverseKaplanMeier(apart, { tiedEvents: 'gone' });
      expect(gone.survival).toEqual(atRisk.survival);
      expect(gone.upper).toEqual(atRisk.upper);
    }),
  );
});

it('summary: does not depend on the order of the rows, and half the cases lie on either side of the median', () => {
  fc.assert(
    fc.property(followUp(), (data) => {
      const { timeDays, event } = data;
      const summary = summariseFollowUp({ timeDays, event });
      const other = reversed(data);
      expect(summariseFollowUp({ timeDays: other.timeDays, event: other.event })).toEqual(summary);
      const { medianDays, n } = summary;
      if (typeof medianDays !== 'number') throw new Error(medianDays.reason);
      expect(timeDays.filter((time) => time < medianDays).length).toBeLessThanOrEqual(n / 2);
      expect(timeDays.filter((time) => time > medianDays).length).toBeLessThanOrEqual(n / 2);
    }),
  );
});

it('completeness lies within 0 and 1, is 1 when nothing is missing, and grows with what is observed', () => {
  const lost = fc.array(fc.integer({ min: 0, max: 40 }), { minLength: 60, maxLength: 60 });
  fc.assert(
    fc.property(followUp(), lost, ({ timeDays, event }, missing) => {
      const potentialDays = timeDays.map((time, i) => time + missing[i]);
      const some = estimateFollowUpCompleteness({ timeDays, event, potentialDays });
      const all = estimateFollowUpCompleteness({ timeDays, event, potentialDays: timeDays });
      if (some.kind !== 'estimated' || all.kind !== 'estimated') throw new Error('expected an index');
      expect(all).toMatchObject({ clarkIndex: 1, simplifiedPersonTime: 1, completeShare: 1 });
      expect(some.clarkIndex).toBeGreaterThan(0);
      expect(some.clarkIndex).toBeLessThanOrEqual(1);
      // Crediting events with their whole potential adds the same to both sides.
      expect(some.simplifiedPersonTime).toBeGreaterThanOrEqual(some.clarkIndex - 1e-12);
      const complete = timeDays.filter((_, i) => event[i] === 1 || missing[i] === 0).length;
      expect(some.completeShare).toBeCloseTo(complete / timeDays.length, 12);
    }),
  );
});
