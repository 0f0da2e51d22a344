import { describe, it } from 'vitest';
import { recorded } from './time-to-event-cases';
import { checkRow, EXCLUSIVE, episode, NO_BLANKING, type Row, sinus } from './time-to-event-truth-table';

const POSITIVES: readonly Row[] = [
  [
    'a positive on b is blanked',
    { recordings: [recorded('af', 90), sinus(200)] },
    {},
    'censored 200 censored-last-recording (200, ...',
  ],
  ['a positive on b + 1 counts', { recordings: [recorded('af', 91)] }, {}, 'event 91 recording-af (90, 91]'],
  [
    'end not inclusive: a positive on b counts',
    { recordings: [recorded('af', 90)] },
    EXCLUSIVE,
    'event 90 recording-af (89, 90]',
  ],
  [
    'end not inclusive: a positive on b - 1 does not',
    { recordings: [recorded('af', 89)] },
    EXCLUSIVE,
    'excluded no-recording-after-blanking',
  ],
  [
    'the earliest positive counts',
    { recordings: [recorded('af', 300), recorded('at', 200), sinus(400)] },
    {},
    'event 200 recording-at-afl (90, 200]',
  ],
  [
    'interval: left is the last negative on an earlier day',
    { recordings: [sinus(100), sinus(150), recorded('af', 200), sinus(300)] },
    {},
    'event 200 recording-af (150, 200]',
  ],
  [
    'interval: a negative on the day of the event is not earlier',
    { recordings: [sinus(100), sinus(200), recorded('af', 200)] },
    {},
    'event 200 recording-af (100, 200]',
  ],
  [
    'interval: a blanked negative does not move left beyond b',
    { recordings: [sinus(40), recorded('af', 200)] },
    {},
    'event 200 recording-af (90, 200]',
  ],
  [
    'interval: onset seen by an implanted device is exact',
    { recordings: [sinus(100), episode(200, 60, { grade: 'continuous' })] },
    {},
    'event 200 recording-af exact',
  ],
  [
    'a baseline positive is never recurrence',
    { recordings: [recorded('af', -1), sinus(1)] },
    { blankingDays: 0 },
    'censored 1 censored-last-recording (1, ...',
  ],
  [
    'day 0 is blanked when b = 0 inclusive, for positives too',
    { recordings: [recorded('af', 0), sinus(1)] },
    { blankingDays: 0 },
    'censored 1 censored-last-recording (1, ...',
  ],
  [
    'a positive on day 0 counts when nothing is blanked',
    { recordings: [recorded('af', 0)] },
    NO_BLANKING,
    'event 0 recording-af exact',
  ],
  [
    '29 s against at least 30 s: too short, negative',
    { recordings: [episode(200, 29)] },
    {},
    'censored 200 censored-last-recording (200, ...',
  ],
  [
    '30 s against at least 30 s: counts',
    { recordings: [episode(200, 30)] },
    {},
    'event 200 recording-af (90, 200]',
  ],
  [
    '30 s against more than 30 s: too short, negative',
    { recordings: [episode(200, 30)] },
    { comparator: 'more-than' },
    'censored 200 censored-last-recording (200, ...',
  ],
  [
    '31 s against more than 30 s: counts',
    { recordings: [episode(200, 31)] },
    { comparator: 'more-than' },
    'event 200 recording-af (90, 200]',
  ],
  [
    'a whole tracing of 10 s counts',
    { recordings: [recorded('af', 200, { seconds: 10 })] },
    {},
    'event 200 recording-af (90, 200]',
  ],
  [
    'whole tracings not counted: 10 s are too short, negative',
    { recordings: [recorded('af', 200, { seconds: 10 })] },
    { wholeTracingCounts: false },
    'censored 200 censored-last-recording (200, ...',
  ],
  [
    'whole tracings not counted: unknown length says nothing',
    { recordings: [sinus(120), recorded('af', 200)] },
    { wholeTracingCounts: false },
    'censored 120 censored-last-recording (120, ...',
  ],
  [
    'part of a tracing, unknown length: neither positive nor negative',
    { recordings: [episode(200, null)] },
    {},
    'excluded no-recording-after-blanking',
  ],
  [
    'at least 0 s: any length counts, even an unknown one',
    { recordings: [episode(200, null)] },
    { minimumSeconds: 0 },
    'event 200 recording-af (90, 200]',
  ],
  [
    'a rhythm that is not counted is negative, whatever its length',
    { recordings: [recorded('at', 200, { seconds: 600 })] },
    { rhythms: 'af' },
    'censored 200 censored-last-recording (200, ...',
  ],
  [
    'ectopy or another rhythm is negative',
    { recordings: [recorded('other', 200)] },
    {},
    'censored 200 censored-last-recording (200, ...',
  ],
  [
    'typical flutter counts',
    { recordings: [recorded('afl-typical', 200)] },
    {},
    'event 200 recording-at-afl (90, 200]',
  ],
  [
    'confirmed typical flutter counts unless exempt',
    { recordings: [recorded('afl-typical-confirmed', 200)] },
    {},
    'event 200 recording-at-afl (90, 200]',
  ],
  [
    'confirmed typical flutter exempt: negative',
    { recordings: [recorded('afl-typical-confirmed', 200)] },
    { confirmedTypicalFlutterExempt: true },
    'censored 200 censored-last-recording (200, ...',
  ],
  [
    'the exemption needs confirmation',
    { recordings: [recorded('afl-typical', 200)] },
    { confirmedTypicalFlutterExempt: true },
    'event 200 recording-at-afl (90, 200]',
  ],
  [
    'symptomatic only: with symptoms counts',
    { recordings: [recorded('af', 200, { symptomatic: true })] },
    { symptomaticOnly: true },
    'event 200 recording-af (90, 200]',
  ],
  [
    'symptomatic only: without symptoms is negative',
    { recordings: [recorded('af', 200)] },
    { symptomaticOnly: true },
    'censored 200 censored-last-recording (200, ...',
  ],
  [
    'AF and AT on one day: AF names the cause',
    { recordings: [recorded('at', 200), recorded('af', 200)] },
    {},
    'event 200 recording-af (90, 200]',
  ],
];

const ACROSS_BLANKING: readonly Row[] = [
  [
    'one recorded episode across b counts on b + 1',
    { recordings: [episode(88, 400_000, { endDay: 92 })] },
    {},
    'event 91 recording-af (90, 91]',
  ],
  [
    'an episode that ends on b does not',
    { recordings: [episode(88, 200_000, { endDay: 90 }), sinus(200)] },
    {},
    'censored 200 censored-last-recording (200, ...',
  ],
  [
    'an episode that ends on b + 1 does',
    { recordings: [episode(90, 90_000, { endDay: 91 })] },
    {},
    'event 91 recording-af (90, 91]',
  ],
  [
    'end not inclusive: an episode that reaches b counts on b',
    { recordings: [episode(88, 200_000, { endDay: 90 })] },
    EXCLUSIVE,
    'event 90 recording-af (89, 90]',
  ],
  [
    'separate positives are never joined across b',
    { recordings: [recorded('af', 90), recorded('af', 95)] },
    {},
    'event 95 recording-af (90, 95]',
  ],
  [
    'an episode across b that began before the procedure is baseline',
    { recordings: [episode(-1, 9_000_000, { endDay: 100 }), sinus(200)] },
    {},
    'censored 200 censored-last-recording (200, ...',
  ],
  [
    'an episode across b of a rhythm not counted is negative to its end',
    { recordings: [recorded('at', 88, { endDay: 95 })] },
    { rhythms: 'af' },
    'censored 95 censored-last-recording (95, ...',
  ],
];

describe('time to event: recordings that found something', () => {
  it.each(POSITIVES)('%s', checkRow);
});

describe('time to event: episodes across the end of blanking', () => {
  it.each(ACROSS_BLANKING)('%s', checkRow);
});
