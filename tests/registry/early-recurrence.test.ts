import { describe, expect, it } from 'vitest';
import {
  bandOf,
  type EarlyRecurrence,
  earlyRecurrenceInWords,
  earlyRecurrenceOf,
  type TimeAfterProcedure,
} from '@/lib/registry/early-recurrence';
import { packEvidence, packMark, packRecording } from '@/lib/registry/rhythm-evidence';
import { recorded } from './time-to-event-cases';

type Item = Parameters<typeof packRecording>[0];
const found = (items: readonly Item[], time: Partial<TimeAfterProcedure> = {}) =>
  earlyRecurrenceOf(packEvidence(items.map(packRecording)), {
    daysSince: 400,
    daysToNext: null,
    daysToDeath: null,
    ...time,
  });
const sinus = (day: number) => recorded('sinus', day);

describe('early recurrence', () => {
  it.each<[string, Item[], Partial<TimeAfterProcedure>, EarlyRecurrence]>([
    [
      'one day is first and last',
      [recorded('af', 12)],
      {},
      { kind: 'found', firstDay: 12, lastDay: 12, isComplete: true },
    ],
    [
      'first and last of several',
      [recorded('af', 3), sinus(40), recorded('at', 75)],
      {},
      { kind: 'found', firstDay: 3, lastDay: 75, isComplete: true },
    ],
    [
      'an episode of many days lasts to its end',
      [recorded('af', 20, { endDay: 47 })],
      {},
      { kind: 'found', firstDay: 20, lastDay: 47, isComplete: true },
    ],
    [
      'an episode that runs past day 90 lasts to day 90',
      [recorded('af', 88, { endDay: 99 })],
      {},
      { kind: 'found', firstDay: 88, lastDay: 90, isComplete: true },
    ],
    ['day 91 is late', [sinus(5), recorded('af', 91)], {}, { kind: 'none' }],
    ['day 0 alone may be older than the ablation', [recorded('af', 0), sinus(30)], {}, { kind: 'none' }],
    [
      'what began on day 0 and was still recorded on day 1 counts from day 1',
      [recorded('af', 0, { endDay: 2 })],
      {},
      { kind: 'found', firstDay: 1, lastDay: 2, isComplete: true },
    ],
    [
      'a recording from before the procedure is baseline, also when it ran on',
      [recorded('af', -1, { endDay: 5 })],
      {},
      { kind: 'not-watched' },
    ],
    [
      '29 s in part of a tracing are too short',
      [recorded('af', 9, { wholeTracing: false, seconds: 29 })],
      {},
      { kind: 'none' },
    ],
    [
      '30 s count',
      [recorded('af', 9, { wholeTracing: false, seconds: 30 })],
      {},
      { kind: 'found', firstDay: 9, lastDay: 9, isComplete: true },
    ],
    [
      'an unknown length in part of a tracing does not count',
      [recorded('af', 9, { wholeTracing: false })],
      {},
      { kind: 'none' },
    ],
    ['other rhythms are none', [recorded('other', 9)], {}, { kind: 'none' }],
    ['nothing recorded is not known', [], {}, { kind: 'not-watched' }],
    ['none so far on day 90', [sinus(20)], { daysSince: 90 }, { kind: 'not-yet' }],
    [
      'found so far on day 50',
      [recorded('af', 20)],
      { daysSince: 50 },
      { kind: 'found', firstDay: 20, lastDay: 20, isComplete: false },
    ],
    [
      'a repeat ends it',
      [sinus(20), recorded('af', 70)],
      { daysToNext: 60 },
      { kind: 'cut-short', by: 'repeat', onDay: 60 },
    ],
    [
      'found before the repeat',
      [recorded('af', 40), recorded('af', 70)],
      { daysToNext: 60 },
      { kind: 'found', firstDay: 40, lastDay: 40, isComplete: true },
    ],
    ['death ends it', [sinus(20)], { daysToDeath: 30 }, { kind: 'cut-short', by: 'death', onDay: 30 }],
    ['a repeat after day 90 does not', [sinus(20)], { daysToNext: 91 }, { kind: 'none' }],
  ])('%s', (_what, items, time, expected) => {
    expect(found(items, time)).toEqual(expected);
  });

  it('is not known from contacts alone', () => {
    const evidence = packEvidence([packMark(5, 20)]);
    expect(earlyRecurrenceOf(evidence, { daysSince: 400, daysToNext: null, daysToDeath: null })).toEqual({
      kind: 'not-watched',
    });
  });

  it('puts every day of 1 to 90 into its band', () => {
    const bands = Array.from({ length: 90 }, (_, i) => bandOf(i + 1));
    expect(bands.indexOf('31-60')).toBe(30);
    expect(bands.indexOf('61-90')).toBe(60);
    expect(new Set(bands).size).toBe(3);
  });

  it('is said in one sentence', () => {
    expect(earlyRecurrenceInWords(found([recorded('af', 3), recorded('af', 75)]))).toBe(
      'Recorded first on day 3 (band 0-30), last on day 75 (band 61-90).',
    );
    expect(earlyRecurrenceInWords(found([recorded('af', 3)], { daysSince: 5 }))).toBe(
      'Recorded on day 3 (band 0-30). The 90 days are not over.',
    );
  });
});
