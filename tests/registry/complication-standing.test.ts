import { describe, expect, it } from 'vitest';
import { addDays, calendarDay } from '@/lib/registry/calendar-day';
import {
  type ComplicationFacts,
  isLateOnset,
  isToAdjudicate,
  isUnresolved,
  standingOf,
  type TwoStates,
} from '@/lib/registry/complication-standing';
import { OUTCOMES } from '@/lib/registry/complication-vocabulary';

const performedOn = calendarDay('2024-03-01');
const reported: ComplicationFacts = {
  type: 'haematoma',
  onsetOn: calendarDay('2024-03-02'),
  harms: [],
  severity: 'minor',
};
const found: ComplicationFacts = {
  ...reported,
  type: 'pseudo-aneurysm',
  harms: ['intervention'],
  severity: 'major',
};
const one = (over: Partial<TwoStates> = {}): TwoStates => ({
  reported,
  adjudication: null,
  isVoided: false,
  ...over,
});

describe('what counts', () => {
  // Every combination of the three verdicts, none, and void (ours: the adjudicated state where there is one).
  it.each([
    ['reported only', one(), { kind: 'counts', by: 'report', facts: reported }],
    [
      'confirmed',
      one({ adjudication: { verdict: 'confirmed', facts: reported } }),
      { kind: 'counts', by: 'adjudication', facts: reported },
    ],
    [
      'reclassified',
      one({ adjudication: { verdict: 'reclassified', facts: found } }),
      { kind: 'counts', by: 'adjudication', facts: found },
    ],
    ['refuted', one({ adjudication: { verdict: 'refuted' } }), { kind: 'refuted' }],
    ['void', one({ isVoided: true }), { kind: 'voided' }],
  ])('%s', (_name, complication, standing) => {
    expect(standingOf(complication)).toEqual(standing);
  });

  it('waits for a second person only while nobody has judged a report that stands', () => {
    expect(isToAdjudicate(one())).toBe(true);
    expect(isToAdjudicate(one({ isVoided: true }))).toBe(false);
    expect(isToAdjudicate(one({ adjudication: { verdict: 'refuted' } }))).toBe(false);
  });
});

describe('not yet resolved', () => {
  const alive = { diedOn: null };
  const course = { outcome: null, resolvedOn: null };

  it('is what counts, has no end, in a patient who lives', () => {
    expect(isUnresolved({ ...one(), ...course }, alive)).toBe(true);
    expect(isUnresolved({ ...one(), ...course, resolvedOn: calendarDay('2024-03-09') }, alive)).toBe(false);
    expect(isUnresolved({ ...one(), ...course }, { diedOn: calendarDay('2024-04-01') })).toBe(false);
    expect(isUnresolved({ ...one({ isVoided: true }), ...course }, alive)).toBe(false);
    expect(isUnresolved({ ...one({ adjudication: { verdict: 'refuted' } }), ...course }, alive)).toBe(false);
  });

  it.each(OUTCOMES)('by outcome $code: $isFinal', ({ code, isFinal }) => {
    expect(isUnresolved({ ...one(), ...course, outcome: code }, alive)).toBe(!isFinal);
  });
});

// Day 90 is the last day of the windows (definition of the windows: day 7, 30, 60, 90).
it.each([
  [0, false],
  [90, false],
  [91, true],
])('an onset on day %i is late: %s', (day, isLate) => {
  expect(isLateOnset(performedOn, addDays(performedOn, day))).toBe(isLate);
});
