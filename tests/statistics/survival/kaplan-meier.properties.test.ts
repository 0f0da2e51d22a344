import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  countsAtTicks,
  estimateKaplanMeier,
  estimateKaplanMeierByGroup,
  type SurvivalLimits,
  survivalAt,
  survivalQuantile,
} from '@/lib/statistics';
import { followUp, reversed } from './follow-up';

const scale = fc.constantFrom<SurvivalLimits>('plain', 'log', 'log-log', 'logit', 'arcsin');
const entry = fc.boolean();

const columnsOf = (
  { timeDays, event, entryDays }: { timeDays: number[]; event: number[]; entryDays: number[] },
  delayed: boolean,
) => (delayed ? { timeDays, event, entryDays } : { timeDays, event });

it('does not depend on the order of the rows', () => {
  fc.assert(
    fc.property(followUp(), entry, (data, delayed) => {
      expect(estimateKaplanMeier(columnsOf(reversed(data), delayed))).toEqual(
        estimateKaplanMeier(columnsOf(data, delayed)),
      );
    }),
  );
});

it('never rises, stays within 0 and 1, and within its limits', () => {
  fc.assert(
    fc.property(followUp(), entry, scale, (data, delayed, limits) => {
      const curve = estimateKaplanMeier(columnsOf(data, delayed), { limits });
      let previous = 1;
      for (const [i, s] of curve.survival.entries()) {
        expect(s).toBeLessThanOrEqual(previous);
        expect(s).toBeGreaterThanOrEqual(0);
        previous = s;
        if (i >= curve.intervalFrom && i < curve.intervalTo) {
          expect(curve.lower[i]).toBeGreaterThanOrEqual(0);
          expect(curve.lower[i]).toBeLessThan(s);
          expect(curve.upper[i]).toBeGreaterThan(s);
          expect(curve.upper[i]).toBeLessThanOrEqual(1);
        }
      }
    }),
  );
});

it('without censoring is the share still free, with the binomial standard error', () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 0, max: 20 }), { minLength: 1, maxLength: 80 }), (timeDays) => {
      const n = timeDays.length;
      const curve = estimateKaplanMeier({ timeDays, event: timeDays.map(() => 1) });
      for (const [i, time] of curve.timeDays.entries()) {
        const free = timeDays.filter((t) => t > time).length / n;
        expect(curve.survival[i]).toBeCloseTo(free, 12);
        if (i < curve.intervalTo)
          expect(curve.standardError[i]).toBeCloseTo(Math.sqrt((free * (1 - free)) / n), 12);
      }
    }),
  );
});

it('gives whole days and the same days in fractions the same curve', () => {
  // Fractions take the sorting path, whole days the counting path: two programs, one answer.
  fc.assert(
    fc.property(followUp(1, 0.5), entry, (data, delayed) => {
      const halves = estimateKaplanMeier(
        columnsOf(
          {
            ...data,
            timeDays: [...data.timeDays, 0.25],
            event: [...data.event, 0],
            entryDays: [...data.entryDays, 0],
          },
          delayed,
        ),
      );
      const whole = estimateKaplanMeier(
        columnsOf(
          {
            timeDays: [...data.timeDays, 0.25].map((t) => 4 * t),
            event: [...data.event, 0],
            entryDays: [...data.entryDays, 0].map((t) => 4 * t),
          },
          delayed,
        ),
      );
      expect(Array.from(halves.timeDays, (t) => 4 * t)).toEqual(Array.from(whole.timeDays));
      for (const key of ['survival', 'lower', 'upper', 'atRisk', 'events', 'censored', 'entered'] as const) {
        expect(halves[key]).toEqual(whole[key]);
      }
    }),
  );
});

it('does not change when everybody enters before the first time', () => {
  fc.assert(
    fc.property(followUp(), ({ timeDays, event }) => {
      const delayed = estimateKaplanMeier({ timeDays, event, entryDays: timeDays.map(() => 0) });
      const plain = estimateKaplanMeier({ timeDays, event });
      expect({ ...delayed, entryDays: [], entered: [] }).toEqual({ ...plain, entryDays: [], entered: [] });
    }),
  );
});

it('by group is the curve of the rows of that group', () => {
  fc.assert(
    fc.property(followUp(), entry, (data, delayed) => {
      const curves = estimateKaplanMeierByGroup(
        { ...columnsOf(data, delayed), group: data.group },
        { groupCount: 3 },
      );
      for (const [g, curve] of curves.entries()) {
        const own = (column: number[]): number[] => column.filter((_, i) => data.group[i] === g);
        const rows = { timeDays: own(data.timeDays), event: own(data.event), entryDays: own(data.entryDays) };
        expect(curve).toEqual({ ...estimateKaplanMeier(columnsOf(rows, delayed && rows.event.length > 0)) });
      }
    }),
  );
});

it('read at its own times gives back its columns', () => {
  fc.assert(
    fc.property(followUp(), entry, (data, delayed) => {
      const curve = estimateKaplanMeier(columnsOf(data, delayed));
      for (const [i, point] of survivalAt(curve, curve.timeDays).entries()) {
        expect(point).toMatchObject({
          survival: curve.survival[i],
          atRisk: curve.atRisk[i],
          beyondFollowUp: false,
        });
      }
    }),
  );
});

it('counts at risk at any time who entered earlier and leaves then or later', () => {
  fc.assert(
    fc.property(followUp(), entry, fc.integer({ min: 0, max: 35 }), (data, delayed, time) => {
      const [point] = survivalAt(estimateKaplanMeier(columnsOf(data, delayed)), [time]);
      const present = data.timeDays.filter(
        (t, i) => t >= time && (!delayed || data.entryDays[i] < time),
      ).length;
      expect(point).toMatchObject({ atRisk: present });
    }),
  );
});

it('quantiles come later for larger fractions, and hold to their own limits', () => {
  fc.assert(
    fc.property(followUp(), scale, (data, limits) => {
      const curve = estimateKaplanMeier(columnsOf(data, false), { limits });
      let previous = 0;
      for (const p of [0.1, 0.25, 0.5, 0.75, 0.9]) {
        const quantile = survivalQuantile(curve, p);
        if (quantile.kind !== 'reached') continue;
        expect(quantile.timeDays).toBeGreaterThanOrEqual(previous);
        previous = quantile.timeDays;
        if (quantile.lower.kind === 'reached')
          expect(quantile.lower.timeDays).toBeLessThanOrEqual(quantile.timeDays);
        if (quantile.upper.kind === 'reached') {
          expect(quantile.upper.timeDays).toBeGreaterThanOrEqual(quantile.timeDays);
        }
      }
    }),
  );
});

it('at every tick: at risk, events, censored and not yet entered sum to all', () => {
  fc.assert(
    fc.property(followUp(), entry, fc.array(fc.integer({ min: 0, max: 35 })), (data, delayed, ticks) => {
      const curve = estimateKaplanMeier(columnsOf(data, delayed));
      const counts = countsAtTicks(curve, ticks);
      for (const [i, tick] of ticks.entries()) {
        const sum =
          counts.atRisk[i] + counts.eventsSoFar[i] + counts.censoredSoFar[i] + counts.notYetEntered[i];
        expect(sum).toBe(curve.n);
        const waiting = delayed ? data.entryDays.filter((t) => t > tick).length : 0;
        expect(counts.notYetEntered[i]).toBe(waiting);
        const had = data.timeDays.filter((t, row) => t < tick && data.event[row] === 1).length;
        expect(counts.eventsSoFar[i]).toBe(had);
      }
    }),
  );
});
