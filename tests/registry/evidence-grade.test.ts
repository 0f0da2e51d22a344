import { describe, expect, it } from 'vitest';
import { evidenceGradeOf, meetsGrade, WINDOW_GRADES, type WindowGrade } from '@/lib/registry/evidence-grade';
import {
  ITEM_KIND,
  type PackedItem,
  packEvidence,
  packMark,
  packRecording,
  packWatchedSpan,
} from '@/lib/registry/rhythm-evidence';
import type { EvidenceGrade } from '@/lib/registry/vocabulary';
import { recorded } from './time-to-event-cases';

const taken = (grade: EvidenceGrade, from: number, to = from): PackedItem =>
  packRecording(recorded('sinus', from, { grade, endDay: to, recordedToDay: to }));
/** A recording from `from` to `to` that found an episode on `day`. */
const found = (grade: EvidenceGrade, from: number, day: number, to: number): PackedItem[] => {
  const isSpanApart = day > from;
  const item = recorded('af', day, {
    grade,
    endDay: day,
    recordedToDay: to,
    wholeTracing: false,
    isSpanApart,
  });
  return isSpanApart ? [packRecording(item), packWatchedSpan(grade, from, to)] : [packRecording(item)];
};
const gradeOf = (items: readonly PackedItem[], fromDay = 300, toDay = 399) =>
  evidenceGradeOf(packEvidence(items), { fromDay, toDay });

describe('evidence grade of a window (day 300 to 399)', () => {
  it.each<[string, PackedItem[], WindowGrade]>([
    ['nothing at all', [], 'none'],
    ['all outside', [taken('ecg', 299), taken('14d', 400, 414), packMark(ITEM_KIND.contact, 200)], 'none'],
    ['a contact', [packMark(ITEM_KIND.contact, 350)], 'symptoms'],
    ['a contact at which drugs were asked for', [packMark(ITEM_KIND.drugsKnown, 350)], 'symptoms'],
    ['a drug that was stopped is no contact', [packMark(ITEM_KIND.drugStop, 350)], 'none'],
    ['an ECG on the first day', [taken('ecg', 300)], 'ecg'],
    ['an ECG on the last day', [taken('ecg', 399)], 'ecg'],
    ['24 h within', [taken('24h', 320, 321)], '24h'],
    ['the best of several', [taken('ecg', 310), taken('7d', 330, 337), taken('24h', 350, 351)], '7d'],
    ['two of 7 days are no 14 days', [taken('7d', 310, 317), taken('7d', 330, 337)], '7d'],
    ['14 days of which 7 lie within', [taken('14d', 293, 307)], '7d'],
    ['14 days of which 6 lie within', [taken('14d', 292, 306)], '24h'],
    ['24 h that reach over the end by one day', [taken('24h', 399, 400)], 'ecg'],
    ['7 days that found something on the sixth', found('7d', 330, 336, 337), '7d'],
    ['14 days of which 7 lie within, that found something there', found('14d', 293, 305, 307), '7d'],
    ['a device that found something late', found('continuous', 300, 378, 379), 'continuous'],
    ['a device on 80 of 100 days', [taken('continuous', 300, 379)], 'continuous'],
    ['a device on 79 of 100 days', [taken('continuous', 300, 378)], '14d'],
    ['a device on 13 days', [taken('continuous', 300, 312)], '7d'],
    ['a device on one day', [taken('continuous', 300)], '24h'],
    [
      'stretches of a device are added, days told twice once',
      [
        taken('continuous', 290, 349),
        taken('continuous', 340, 360),
        ...found('continuous', 361, 361, 361),
        taken('continuous', 362, 379),
      ],
      'continuous',
    ],
    [
      'the device alone, not the gap between',
      [taken('continuous', 300, 339), taken('continuous', 361, 399)],
      '14d',
    ],
    [
      'a better external recording beside few device days',
      [taken('continuous', 300, 302), taken('7d', 320, 327)],
      '7d',
    ],
  ])('%s', (_what, items, expected) => {
    expect(gradeOf(items)).toBe(expected);
  });

  it('knows that a window of one day is watched by a device on that day', () => {
    expect(gradeOf([taken('continuous', 300, 340)], 310, 310)).toBe('continuous');
  });

  it('is enough when it is at least what the slot asks', () => {
    const grades = WINDOW_GRADES.map(({ code }) => code);
    const enough = (needed: WindowGrade | 'contact') => grades.filter((grade) => meetsGrade(grade, needed));
    expect(enough('symptoms')).toEqual(grades.slice(1));
    expect(enough('contact')).toEqual(grades.slice(1));
    expect(enough('24h')).toEqual(['24h', '7d', '14d', 'continuous']);
    expect(enough('continuous')).toEqual(['continuous']);
  });
});
