import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addDays, type CalendarDay, calendarDay, daysBetween } from '@/lib/registry/calendar-day';
import { type DeviceDay, packDeviceDays, stretchesOf } from '@/lib/registry/device-days';
import { timelinesOf } from '@/lib/registry/patient-history';
import { packEvidence } from '@/lib/registry/rhythm-evidence';
import { deriveOutcomes } from '@/lib/registry/time-to-event';
import { explainOutcome } from '@/lib/registry/time-to-event-sentence';
import { cohortOf, EMPTY_CASE } from './time-to-event-cases';
import { BASE } from './time-to-event-truth-table';

const START = calendarDay('2024-01-01');
const on = (day: number) => addDays(START, day);
const device = (day: number, burdenSeconds = 0, longestEpisodeSeconds: number | null = null): DeviceDay => ({
  day: on(day),
  device: 'implanted-monitor',
  burdenSeconds,
  longestEpisodeSeconds,
});
const since = (day: CalendarDay) => daysBetween(START, day);
const quiet = (from: number, to: number) =>
  Array.from({ length: to - from + 1 }, (_, index) => device(from + index));

/** A cohort of one case with this evidence alone. */
function caseOf(
  evidence: readonly number[],
  more: { next?: number | undefined; death?: number | undefined } = {},
) {
  const cohort = cohortOf([{ ...EMPTY_CASE, next: more.next ?? null, death: more.death ?? null }]);
  return {
    ...cohort,
    evidence: Int32Array.from(evidence),
    evidenceStart: Int32Array.of(0, evidence.length),
  };
}
const packed = (days: readonly DeviceDay[], cuts: readonly number[] = [0]) =>
  packEvidence(packDeviceDays(days, cuts.map(on), since));
const outcomeOf = (
  days: readonly DeviceDay[],
  rules: Partial<typeof BASE> = {},
  more: { next?: number | undefined; death?: number | undefined } = {},
) => {
  const cohort = caseOf(packed(days), more);
  const outcomes = deriveOutcomes(cohort, { ...BASE, ...rules });
  return {
    time: outcomes.timeDays[0],
    status: outcomes.status[0],
    left: outcomes.intervalLeft[0],
    right: outcomes.intervalRight[0],
    sentence: explainOutcome(cohort, outcomes, 0),
  };
};

describe('device days as stretches', () => {
  const lines = (days: readonly DeviceDay[], cuts: readonly number[] = []) =>
    stretchesOf(days, cuts.map(on)).map(({ firstDay, lastDay, days: n, seconds, isAtMost }) => [
      since(firstDay),
      since(lastDay),
      n,
      seconds,
      isAtMost,
    ]);

  it('joins days without arrhythmia that follow each other, in whatever order they come', () => {
    expect(lines([device(3), device(1), device(2)])).toEqual([[1, 3, 3, null, false]]);
  });
  it('breaks at a day that was not recorded', () => {
    expect(lines([device(1), device(2), device(4)])).toEqual([
      [1, 2, 2, null, false],
      [4, 4, 1, null, false],
    ]);
  });
  it('lets every day with arrhythmia stand alone', () => {
    expect(lines([device(1), device(2, 600, 300), device(3, 700, 650), device(4)])).toEqual([
      [1, 1, 1, null, false],
      [2, 2, 1, 300, false],
      [3, 3, 1, 650, false],
      [4, 4, 1, null, false],
    ]);
  });
  it('breaks before the day of a procedure', () => {
    expect(lines(quiet(-2, 2), [0])).toEqual([
      [-2, -1, 2, null, false],
      [0, 2, 3, null, false],
    ]);
  });
  it('takes the burden for the longest episode where none is given, and says so', () => {
    expect(lines([device(1, 600)])).toEqual([[1, 1, 1, 600, true]]);
  });
  it('knows that a full day is one episode', () => {
    expect(lines([device(1, 86_400)])).toEqual([[1, 1, 1, 86_400, false]]);
  });
  it('keeps every day once, whatever the days are', () => {
    const anyDays = fc.uniqueArray(
      fc.tuple(fc.integer({ min: -20, max: 40 }), fc.constantFrom(0, 0, 0, 40)),
      {
        selector: ([day]) => day,
      },
    );
    fc.assert(
      fc.property(anyDays, fc.array(fc.integer({ min: -20, max: 40 }), { maxLength: 3 }), (days, cuts) => {
        const stretches = stretchesOf(
          days.map(([day, burden]) => device(day, burden)),
          cuts.map(on),
        );
        const covered = stretches.flatMap(({ firstDay, days: n }) =>
          Array.from({ length: n }, (_, index) => since(firstDay) + index),
        );
        expect(covered).toEqual(days.map(([day]) => day).sort((a, b) => a - b));
      }),
      { numRuns: 500, seed: 20_261_201 },
    );
  });
});

describe('freedom by a device', () => {
  it.each<[string, DeviceDay[], Partial<typeof BASE>, { next?: number; death?: number }, object]>([
    ['free to the last day', quiet(0, 400), {}, {}, { status: 0, time: 400 }],
    ['free to the last day before a gap that never ends', quiet(0, 200), {}, {}, { status: 0, time: 200 }],
    [
      'free up to the repeat, though the device ran on',
      quiet(0, 400),
      {},
      { next: 250 },
      { status: 0, time: 250 },
    ],
    ['free up to death', quiet(0, 300), {}, { death: 300 }, { status: 0, time: 300 }],
    [
      'a day with 30 s, exactly known',
      [...quiet(0, 149), device(150, 90, 30), ...quiet(151, 400)],
      {},
      {},
      { status: 1, time: 150, left: 150, right: 150 },
    ],
    [
      'a day in blanking does not count',
      [...quiet(0, 49), device(50, 9000, 9000), ...quiet(51, 400)],
      {},
      {},
      { status: 0, time: 400 },
    ],
    [
      'a longest episode under the minimum is none, though the burden is over it',
      [...quiet(0, 149), device(150, 90, 29), ...quiet(151, 400)],
      {},
      {},
      { status: 0, time: 400 },
    ],
    [
      'without a longest episode the burden decides',
      [...quiet(0, 149), device(150, 30), ...quiet(151, 400)],
      {},
      {},
      { status: 1, time: 150 },
    ],
    [
      'a burden under the minimum cannot hold an episode that long',
      [...quiet(0, 149), device(150, 29), ...quiet(151, 400)],
      {},
      {},
      { status: 0, time: 400 },
    ],
    [
      'another minimum finds another first day',
      [...quiet(0, 149), device(150, 300, 200), device(151, 4000, 360)],
      { minimumSeconds: 360 },
      {},
      { status: 1, time: 151 },
    ],
    [
      'a full day counts under a minimum of 24 h',
      [...quiet(0, 149), device(150, 80_000), device(151, 86_400)],
      { minimumSeconds: 86_400 },
      {},
      { status: 1, time: 151 },
    ],
    [
      'nothing felt is known, so symptomatic recurrence is never found by it',
      [...quiet(0, 149), device(150, 9000, 9000), ...quiet(151, 200)],
      { symptomaticOnly: true },
      {},
      { status: 0, time: 200 },
    ],
  ])('%s', (_what, days, rules, more, expected) => {
    expect(outcomeOf(days, rules, more)).toMatchObject(expected);
  });

  it('says when the length is only known from above', () => {
    expect(outcomeOf([...quiet(0, 149), device(150, 5400)]).sentence).toBe(
      'AF of at most 5400 s (the burden of the day) on day 150, continuous.',
    );
    expect(outcomeOf([...quiet(0, 149), device(150, 5400, 700)]).sentence).toBe(
      'AF of 700 s on day 150, continuous.',
    );
  });

  it('reads a run of days as if each had been recorded by itself', () => {
    const day = fc.record({
      burden: fc.constantFrom(0, 0, 0, 0, 20, 45, 86_400),
      isGiven: fc.boolean(),
      isRecorded: fc.constantFrom(true, true, true, false),
    });
    const stop = fc.option(fc.integer({ min: 1, max: 20 }), { nil: undefined });
    fc.assert(
      fc.property(
        fc.array(day, { maxLength: 20 }),
        stop,
        stop,
        fc.integer({ min: 0, max: 8 }),
        (facts, next, death, blankingDays) => {
          const days = facts.flatMap(({ burden, isGiven, isRecorded }, index) =>
            isRecorded
              ? [device(index - 3, burden, isGiven && burden > 0 ? Math.ceil(burden / 2) : null)]
              : [],
          );
          const joined = outcomeOf(days, { blankingDays }, { next, death });
          const everyDay = days.map(({ day: one }) => since(one));
          const cohort = caseOf(packed(days, [0, ...everyDay]), { next, death });
          const outcomes = deriveOutcomes(cohort, { ...BASE, blankingDays });
          expect([joined.time, joined.status, joined.left, joined.right]).toEqual([
            outcomes.timeDays[0],
            outcomes.status[0],
            outcomes.intervalLeft[0],
            outcomes.intervalRight[0],
          ]);
        },
      ),
      { numRuns: 2000, seed: 20_261_202 },
    );
  });
});

describe('device days in a patient’s history', () => {
  it('are baseline before the first procedure, and the second procedure sees its own', () => {
    const procedure = { energy: null, deviceType: null, lesionElements: [] };
    const [first, second] = timelinesOf({
      diedOn: null,
      procedures: [
        { ...procedure, id: 'a', ordinal: 1, performedOn: on(0) },
        { ...procedure, id: 'b', ordinal: 2, performedOn: on(100) },
      ],
      recordings: [],
      deviceDays: quiet(-30, 200),
      drugEpisodes: [],
      cardioversions: [],
      visits: [],
    });
    const spans = (evidence: readonly number[]) =>
      Array.from({ length: evidence.length / 5 }, (_, i) => [evidence[5 * i], evidence[5 * i + 4]]);
    expect(spans(first?.evidence ?? [])).toEqual([
      [-30, -1],
      [0, 99],
      [100, 200],
    ]);
    expect(spans(second?.evidence ?? [])).toEqual([
      [-130, -101],
      [-100, -1],
      [0, 100],
    ]);
    expect(first?.daysToLastContact).toBe(200);
  });
});
