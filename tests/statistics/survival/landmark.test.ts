import { describe, expect, it } from 'vitest';
import { estimateConditionalSurvival, estimateKaplanMeier, selectAtLandmark } from '@/lib/statistics';
import { expectMistake } from '../expect-mistake';
import { estimated } from './estimated';
import { sixCases } from './six-cases';

describe('cases at a landmark', () => {
  it('are those with a later time, counted from it', () => {
    const kept = selectAtLandmark(sixCases, 2);
    expect(kept.n).toBe(5);
    expect(Array.from(kept.rows)).toEqual([0, 2, 3, 4, 5]);
    expect(Array.from(kept.timeDays)).toEqual([1, 3, 1, 4, 1]);
    expect(Array.from(kept.event)).toEqual([1, 0, 0, 1, 1]);
    expect(kept.entryDays).toBeUndefined();
  });

  it('leave out who had the event or was censored on it, blurred by arithmetic or not', () => {
    expect(Array.from(selectAtLandmark(sixCases, 3).rows)).toEqual([2, 4]);
    const tenths = { ...sixCases, timeDays: sixCases.timeDays.map((t) => t * 0.1) };
    expect(Array.from(selectAtLandmark(tenths, 0.3).rows)).toEqual([2, 4]);
    expect(selectAtLandmark(tenths, 0.3 - 1e-6).n).toBe(5);
  });

  it('keep their distance when they enter later', () => {
    const kept = selectAtLandmark({ timeDays: [4, 9, 9], event: [1, 1, 0], entryDays: [0, 3, 8] }, 5);
    expect(Array.from(kept.rows)).toEqual([1, 2]);
    expect(Array.from(kept.entryDays ?? [])).toEqual([0, 3]);
  });

  it('may be nobody', () => {
    expect(selectAtLandmark(sixCases, 6)).toMatchObject({ n: 0 });
    expect(selectAtLandmark(sixCases, 0).n).toBe(6);
  });

  it('refuses mistakes', () => {
    expectMistake(() => selectAtLandmark(sixCases, -1), 'outOfRange', 'landmarkDays');
    expectMistake(() => selectAtLandmark(sixCases, Number.POSITIVE_INFINITY), 'outOfRange', 'landmarkDays');
    expectMistake(() => selectAtLandmark({ timeDays: [1], event: [1, 0] }, 1), 'unequalLengths', 'event');
    expectMistake(() => selectAtLandmark({ timeDays: [-1], event: [1] }, 1), 'negative', 'timeDays', 0);
    expectMistake(() => selectAtLandmark({ timeDays: [1], event: [3] }, 1), 'unknownCode', 'event', 0);
    const late = { timeDays: [1, 2], event: [1, 1], entryDays: [0, 2] };
    expectMistake(() => selectAtLandmark(late, 1), 'entryNotBeforeExit', 'entryDays', 1);
  });
});

describe('conditional survival by hand', () => {
  const curve = estimateKaplanMeier(sixCases, { limits: 'plain' });

  it('is S(5)/S(2) = 1/2 over 5/6, with the variance of day 3 alone', () => {
    const [point] = estimateConditionalSurvival(curve, 2, [3]).map(estimated);
    expect(point).toMatchObject({ laterDays: 3, beyondFollowUp: false });
    expect(point.survival).toBeCloseTo(0.6, 15);
    const { standardError, lower, upper } = estimated(point.interval);
    expect(standardError).toBeCloseTo(0.6 * Math.sqrt(2 / 15), 15);
    expect(lower).toBeCloseTo(0.6 - 1.959963984540054 * 0.6 * Math.sqrt(2 / 15), 13);
    expect(upper).toBe(1);
  });

  it('counts the event on the later day but not the one on the day of the condition', () => {
    const points = estimateConditionalSurvival(curve, 1, [1, 2]).map(estimated);
    expect(points.map(({ survival }) => survival)).toEqual([1, 0.6]);
    expect(points[0].interval).toMatchObject({ kind: 'notEstimable', code: 'noEventYet' });
  });

  it('at zero, and carried beyond follow-up', () => {
    const [zero, carried] = estimateConditionalSurvival(curve, 2, [4, 10]).map(estimated);
    expect(zero).toMatchObject({ survival: 0, beyondFollowUp: false, interval: { code: 'curveAtZero' } });
    expect(carried).toMatchObject({ survival: 0, beyondFollowUp: true });
    const open = estimateKaplanMeier({ timeDays: [1, 2, 3], event: [1, 1, 0] });
    expect(estimated(estimateConditionalSurvival(open, 1, [5])[0])).toMatchObject({
      survival: 0.5,
      beyondFollowUp: true,
      interval: { kind: 'estimated' },
    });
  });

  it('is not estimable once the curve is at zero, nobody is left, or nobody was there', () => {
    expect(estimateConditionalSurvival(curve, 6, [1])).toMatchObject([{ code: 'curveAtZero' }]);
    const open = estimateKaplanMeier({ timeDays: [1, 2], event: [1, 0] });
    expect(estimateConditionalSurvival(open, 2, [1, 2])).toMatchObject([
      { code: 'nobodyLeft' },
      { code: 'nobodyLeft' },
    ]);
    const empty = estimateKaplanMeier({ timeDays: [], event: [] });
    expect(estimateConditionalSurvival(empty, 0, [1])).toMatchObject([{ code: 'noRows' }]);
  });

  it('refuses times that are none', () => {
    expectMistake(() => estimateConditionalSurvival(curve, -1, [1]), 'negative', 'fromDays', 0);
    expectMistake(() => estimateConditionalSurvival(curve, 1, [1, Number.NaN]), 'notFinite', 'laterDays', 1);
  });
});
