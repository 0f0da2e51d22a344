import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  EVIDENCE_STRIDE,
  gradeIndexOf,
  gradeOfRecording,
  ITEM_KIND,
  isAtMost,
  isDayByDay,
  isSeen,
  isSpanApart,
  isSymptomatic,
  isWholeTracing,
  kindOf,
  packEvidence,
  packMark,
  packRecording,
  packWatchedSpan,
  type RecordingItem,
  rhythmIndexOf,
} from '@/lib/registry/rhythm-evidence';
import { EVIDENCE_GRADES, RECORDING_KINDS, RHYTHMS } from '@/lib/registry/vocabulary';

const anyRecording: fc.Arbitrary<RecordingItem> = fc.record({
  day: fc.integer({ min: -20_000, max: 40_000 }),
  endDay: fc.integer({ min: -20_000, max: 40_000 }),
  recordedToDay: fc.integer({ min: -20_000, max: 40_000 }),
  rhythm: fc.constantFrom(...RHYTHMS.map((term) => term.code)),
  grade: fc.constantFrom(...EVIDENCE_GRADES.map((term) => term.code)),
  seconds: fc.option(fc.integer({ min: 0, max: 2_000_000_000 })),
  wholeTracing: fc.boolean(),
  symptomatic: fc.boolean(),
  seen: fc.boolean(),
  isDayByDay: fc.boolean(),
  isAtMost: fc.boolean(),
  isSpanApart: fc.boolean(),
});

/** Reads the integers back as the object they came from. */
function unpacked([day, code, seconds, endDay, recordedToDay]: readonly number[]): RecordingItem {
  return {
    day,
    endDay,
    recordedToDay,
    rhythm: RHYTHMS[rhythmIndexOf(code)].code,
    grade: EVIDENCE_GRADES[gradeIndexOf(code)].code,
    seconds: seconds < 0 ? null : seconds,
    wholeTracing: isWholeTracing(code),
    symptomatic: isSymptomatic(code),
    seen: isSeen(code),
    isDayByDay: isDayByDay(code),
    isAtMost: isAtMost(code),
    isSpanApart: isSpanApart(code),
  };
}

describe('packed recordings', () => {
  it('give back what was packed, through a column of 32-bit integers', () => {
    fc.assert(
      fc.property(anyRecording, (item) => {
        const column = Int32Array.from(packRecording(item));
        expect(unpacked([...column])).toEqual(item);
        expect(kindOf(column[1])).toBe(ITEM_KIND.recording);
      }),
      { numRuns: 2000, seed: 20_260_110 },
    );
  });
  it('give every combination of rhythm, grade and flags a code of its own', () => {
    const codes = new Set<number>();
    for (const { code: rhythm } of RHYTHMS) {
      for (const { code: grade } of EVIDENCE_GRADES) {
        for (let flags = 0; flags < 64; flags++) {
          const [wholeTracing, symptomatic, seen] = [(flags & 1) > 0, (flags & 2) > 0, (flags & 4) > 0];
          const [byDay, atMost, apart] = [(flags & 8) > 0, (flags & 16) > 0, (flags & 32) > 0];
          codes.add(
            packRecording({
              day: 0,
              endDay: 0,
              recordedToDay: 0,
              rhythm,
              grade,
              seconds: 1,
              wholeTracing,
              symptomatic,
              seen,
              isDayByDay: byDay,
              isAtMost: atMost,
              isSpanApart: apart,
            })[1],
          );
        }
      }
    }
    expect(codes.size).toBe(RHYTHMS.length * EVIDENCE_GRADES.length * 64);
  });
  it('leave room for what is packed: four bits of rhythm, four of grade', () => {
    expect(RHYTHMS.length).toBeLessThanOrEqual(16);
    expect(EVIDENCE_GRADES.length).toBeLessThanOrEqual(16);
  });
});

describe('packed marks', () => {
  it('are told apart from recordings and from each other', () => {
    const { recording: _recording, watched: _span, ...marks } = ITEM_KIND;
    for (const kind of Object.values(marks)) {
      expect(packMark(kind, 17)).toEqual([17, kind, -1, 17, 17]);
      expect(kindOf(packMark(kind, 17)[1])).toBe(kind);
    }
    expect(new Set(Object.values(ITEM_KIND)).size).toBe(Object.keys(ITEM_KIND).length);
  });
});

describe('a packed span', () => {
  it('tells its days and its grade, and is no recording', () => {
    const [day, code, seconds, endDay, recordedTo] = packWatchedSpan('7d', 20, 27);
    expect([day, seconds, endDay, recordedTo]).toEqual([20, -1, 27, 27]);
    expect(kindOf(code)).toBe(ITEM_KIND.watched);
    expect(EVIDENCE_GRADES[gradeIndexOf(code)].code).toBe('7d');
  });
});

describe('packed evidence', () => {
  const anyItem = fc.oneof(
    anyRecording.map((item) => packRecording({ ...item, day: item.day % 5 })),
    fc
      .tuple(
        fc.constantFrom(1 as const, 2 as const, 3 as const, 4 as const, 5 as const),
        fc.integer({ min: -4, max: 4 }),
      )
      .map(([kind, day]) => packMark(kind, day)),
  );
  it('is sorted by day, then by the order within a day, and loses nothing', () => {
    fc.assert(
      fc.property(fc.array(anyItem, { maxLength: 20 }), (items) => {
        const flat = packEvidence(items);
        const back = items.map((_, index) =>
          flat.slice(index * EVIDENCE_STRIDE, (index + 1) * EVIDENCE_STRIDE),
        );
        expect(flat).toHaveLength(items.length * EVIDENCE_STRIDE);
        expect([...back].map(String).sort()).toEqual(items.map(String).sort());
        for (let index = 1; index < back.length; index++) {
          const [[dayBefore, codeBefore], [day, code]] = [back[index - 1], back[index]];
          expect(dayBefore < day || (dayBefore === day && kindOf(codeBefore) <= kindOf(code))).toBe(true);
        }
      }),
      { numRuns: 1000, seed: 20_260_111 },
    );
  });
  it('does not depend on the order in which items are given', () => {
    const order = fc
      .array(anyItem, { maxLength: 12 })
      .chain((items) =>
        fc.tuple(fc.constant(items), fc.shuffledSubarray(items, { minLength: items.length })),
      );
    fc.assert(
      fc.property(order, ([items, shuffled]) => {
        expect(packEvidence(shuffled)).toEqual(packEvidence(items));
      }),
      { numRuns: 1000, seed: 20_260_112 },
    );
  });
});

describe('the grade of a recording', () => {
  it.each([
    ['ecg', 10_000, 'ecg'],
    ['rhythm-strip', null, 'ecg'],
    ['holter', null, 'ecg'],
    ['holter', 1439, 'ecg'],
    ['holter', 1440, '24h'],
    ['holter', 7 * 1440 - 1, '24h'],
    ['holter', 7 * 1440, '7d'],
    ['holter', 14 * 1440 - 1, '7d'],
    ['holter', 14 * 1440, '14d'],
    ['implanted', null, 'continuous'],
    ['implanted', 5, 'continuous'],
  ] as const)('%s of %s minutes: %s', (kind, minutes, grade) => {
    expect(gradeOfRecording(kind, minutes)).toBe(grade);
  });
  it('is known for every kind', () => {
    const grades: readonly string[] = EVIDENCE_GRADES.map((term) => term.code);
    for (const { code } of RECORDING_KINDS) expect(grades).toContain(gradeOfRecording(code, 1440));
  });
});
