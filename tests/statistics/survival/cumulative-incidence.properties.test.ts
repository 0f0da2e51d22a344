import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  estimateCumulativeIncidence,
  estimateCumulativeIncidenceByGroup,
  estimateKaplanMeier,
  type IncidenceLimits,
  incidenceAt,
} from '@/lib/statistics';
import { type FollowUp, followUp, reversed } from './follow-up';

const scale = fc.constantFrom<IncidenceLimits>('plain', 'log', 'log-log');
const columnsOf = ({ timeDays, status, entryDays }: FollowUp, delayed: boolean) =>
  delayed ? { timeDays, status, entryDays } : { timeDays, status };

it('does not depend on the order of the rows, and swaps with the causes', () => {
  fc.assert(
    fc.property(followUp(), fc.boolean(), (data, delayed) => {
      const options = { causeCount: 2 };
      const estimate = estimateCumulativeIncidence(columnsOf(data, delayed), options);
      expect(estimateCumulativeIncidence(columnsOf(reversed(data), delayed), options)).toEqual(estimate);
      const status = data.status.map((code) => (code === 0 ? 0 : 3 - code));
      const swapped = estimateCumulativeIncidence(columnsOf({ ...data, status }, delayed), options);
      expect(swapped.causes[0].incidence).toEqual(estimate.causes[1].incidence);
      expect(swapped.causes[0].standardError).toEqual(estimate.causes[1].standardError);
    }),
  );
});

it('causes and event-free share one whole, and the event-free curve is Kaplan-Meier', () => {
  fc.assert(
    fc.property(followUp(), fc.boolean(), (data, delayed) => {
      const estimate = estimateCumulativeIncidence(columnsOf(data, delayed), { causeCount: 2 });
      const { event, timeDays, entryDays } = data;
      const curve = estimateKaplanMeier(delayed ? { timeDays, event, entryDays } : { timeDays, event });
      expect(estimate.eventFree).toEqual(curve.survival);
      for (const i of estimate.timeDays.keys()) {
        const sum = estimate.causes[0].incidence[i] + estimate.causes[1].incidence[i] + estimate.eventFree[i];
        expect(sum).toBeCloseTo(1, 12);
      }
    }),
  );
});

it('with one cause is one minus Kaplan-Meier, with the same standard error and log-log limits', () => {
  fc.assert(
    fc.property(followUp(), fc.boolean(), (data, delayed) => {
      const { event, timeDays, entryDays } = data;
      const entry = delayed ? { entryDays } : {};
      const [cause] = estimateCumulativeIncidence({ timeDays, status: event, ...entry }).causes;
      const curve = estimateKaplanMeier({ timeDays, event, ...entry });
      expect([cause.intervalFrom, cause.intervalTo]).toEqual([curve.intervalFrom, curve.intervalTo]);
      for (const i of curve.timeDays.keys()) {
        expect(cause.incidence[i]).toBeCloseTo(1 - curve.survival[i], 12);
        if (i < curve.intervalFrom || i >= curve.intervalTo) continue;
        expect(cause.standardError[i]).toBeCloseTo(curve.standardError[i], 10);
        expect(cause.lower[i]).toBeCloseTo(1 - curve.upper[i], 9);
        expect(cause.upper[i]).toBeCloseTo(1 - curve.lower[i], 9);
      }
    }),
  );
});

it('without censoring is the share of all cases, with the binomial standard error', () => {
  fc.assert(
    fc.property(followUp(), ({ timeDays, status }) => {
      const causes = status.map((code) => Math.max(1, code));
      const estimate = estimateCumulativeIncidence({ timeDays, status: causes }, { causeCount: 2 });
      const n = timeDays.length;
      for (const { cause, incidence, standardError } of estimate.causes) {
        for (const [i, time] of estimate.timeDays.entries()) {
          const share = timeDays.filter((t, row) => t <= time && causes[row] === cause).length / n;
          expect(incidence[i]).toBeCloseTo(share, 12);
          expect(standardError[i] ** 2).toBeCloseTo((share * (1 - share)) / n, 12);
        }
      }
    }),
  );
});

it('never falls and lies within its limits', () => {
  fc.assert(
    fc.property(followUp(), fc.boolean(), scale, (data, delayed, limits) => {
      for (const cause of estimateCumulativeIncidence(columnsOf(data, delayed), { limits }).causes) {
        let previous = 0;
        for (const [i, f] of cause.incidence.entries()) {
          expect(f).toBeGreaterThanOrEqual(previous);
          previous = f;
          if (i < cause.intervalFrom || i >= cause.intervalTo) continue;
          expect(cause.lower[i]).toBeGreaterThanOrEqual(0);
          expect(cause.lower[i]).toBeLessThanOrEqual(f);
          expect(cause.upper[i]).toBeGreaterThanOrEqual(f);
          expect(cause.upper[i]).toBeLessThanOrEqual(1);
        }
      }
    }),
  );
});

it('by group is the estimate of the rows of that group; read at its own times it gives back its columns', () => {
  fc.assert(
    fc.property(followUp(), (data) => {
      const { timeDays, status, group } = data;
      const options = { groupCount: 3, causeCount: 2 };
      for (const [g, estimate] of estimateCumulativeIncidenceByGroup(
        { timeDays, status, group },
        options,
      ).entries()) {
        const own = (column: number[]): number[] => column.filter((_, i) => group[i] === g);
        const alone = estimateCumulativeIncidence(
          { timeDays: own(timeDays), status: own(status) },
          { causeCount: 2 },
        );
        expect(estimate).toEqual(alone);
        const points = incidenceAt(estimate, 2, estimate.timeDays);
        expect(points.map((point) => point.kind === 'estimated' && point.incidence)).toEqual(
          Array.from(estimate.causes[1].incidence),
        );
      }
    }),
  );
});
