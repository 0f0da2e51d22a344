import { expect, it } from 'vitest';
import { countsAtTicks, estimateKaplanMeier } from '@/lib/statistics';
import { expectMistake } from '../expect-mistake';

const rows = (counts: ReturnType<typeof countsAtTicks>): Record<string, number[]> => ({
  atRisk: Array.from(counts.atRisk),
  events: Array.from(counts.eventsSoFar),
  censored: Array.from(counts.censoredSoFar),
  waiting: Array.from(counts.notYetEntered),
});

it('counts before the tick; who leaves on it is still at risk', () => {
  const curve = estimateKaplanMeier({ timeDays: [3, 1, 5, 3, 6, 3], event: [1, 1, 0, 0, 1, 1] });
  expect(rows(countsAtTicks(curve, [0, 3, 4, 6, 7]))).toEqual({
    atRisk: [6, 5, 2, 1, 0],
    events: [0, 1, 3, 3, 4],
    censored: [0, 0, 1, 2, 2],
    waiting: [0, 0, 0, 0, 0],
  });
});

it('shows everybody at the day on which the risk set opens', () => {
  const curve = estimateKaplanMeier({ timeDays: [91, 120, 400], event: [1, 0, 1], entryDays: [90, 90, 90] });
  expect(rows(countsAtTicks(curve, [0, 90, 91, 92, 365]))).toEqual({
    atRisk: [0, 3, 3, 2, 1],
    events: [0, 0, 0, 1, 1],
    censored: [0, 0, 0, 0, 1],
    waiting: [3, 0, 0, 0, 0],
  });
});

it('answers in the order of the ticks and for a curve without cases', () => {
  const curve = estimateKaplanMeier({ timeDays: [1, 2], event: [1, 1] });
  const counts = countsAtTicks(curve, [2, 0]);
  expect(Array.from(counts.tickDays)).toEqual([2, 0]);
  expect(Array.from(counts.atRisk)).toEqual([1, 2]);
  const empty = estimateKaplanMeier({ timeDays: [], event: [] });
  expect(rows(countsAtTicks(empty, [0]))).toEqual({ atRisk: [0], events: [0], censored: [0], waiting: [0] });
});

it('refuses ticks that are no times', () => {
  const curve = estimateKaplanMeier({ timeDays: [1], event: [1] });
  expectMistake(() => countsAtTicks(curve, [-1]), 'negative', 'ticks', 0);
});
