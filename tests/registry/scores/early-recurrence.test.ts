import { describe, expect, it } from 'vitest';
import { packEvidence, packMark, packRecording, type RecordingItem } from '@/lib/registry/rhythm-evidence';
import { earlyRecurrenceFact } from '@/lib/registry/scores/early-recurrence';

const recording = (day: number, more: Partial<RecordingItem> = {}) =>
  packRecording({
    day,
    endDay: day,
    recordedToDay: day,
    rhythm: 'af',
    grade: 'ecg',
    seconds: null,
    wholeTracing: true,
    symptomatic: false,
    seen: true,
    ...more,
  });
const found = (items: ReturnType<typeof recording>[], daysSince = 91) =>
  earlyRecurrenceFact(packEvidence(items), { daysSince, daysToNext: null, daysToDeath: null });

describe('early recurrence', () => {
  it.each<[string, ReturnType<typeof recording>[], number, boolean | null]>([
    ['is not known on day 90, whatever was recorded', [recording(10)], 90, null],
    ['is known from day 91', [recording(10)], 91, true],
    ['counts day 1 and day 90', [recording(90)], 400, true],
    ['does not count day 91', [recording(91)], 400, null],
    ['does not count the procedure day', [recording(0)], 400, null],
    [
      'counts an episode of day 0 that reaches into day 1',
      [recording(0, { endDay: 1, recordedToDay: 1 })],
      400,
      true,
    ],
    [
      'does not count a recording that began before the procedure: baseline',
      [recording(-1, { endDay: 1, recordedToDay: 1 })],
      400,
      null,
    ],
    ['needs 30 s', [recording(20, { wholeTracing: false, seconds: 29 })], 400, false],
    ['takes 30 s', [recording(20, { wholeTracing: false, seconds: 30 })], 400, true],
    ['is absent where a recording found sinus rhythm', [recording(20, { rhythm: 'sinus' })], 400, false],
    ['does not count other rhythms', [recording(20, { rhythm: 'other' })], 400, false],
    ['is not known when nobody recorded anything', [], 400, null],
    ['is not known from a contact alone', [packMark(5, 20)], 400, null],
  ])('%s', (_what, items, daysSince, expected) => {
    expect(found(items, daysSince)).toBe(expected);
  });
});
