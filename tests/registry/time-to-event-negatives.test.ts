import { describe, it } from 'vitest';
import { recorded } from './time-to-event-cases';
import { checkRow, EXCLUSIVE, NO_BLANKING, type Row, sinus } from './time-to-event-truth-table';

const NEGATIVES: readonly Row[] = [
  [
    'no event: censored at the last negative',
    { recordings: [sinus(120), sinus(400)] },
    {},
    'censored 400 censored-last-recording (400, ...',
  ],
  ['nothing recorded: excluded', {}, {}, 'excluded no-recording-after-blanking'],
  ['a negative on b is blanked', { recordings: [sinus(90)] }, {}, 'excluded no-recording-after-blanking'],
  [
    'a negative on b + 1 is the first that counts',
    { recordings: [sinus(91)] },
    {},
    'censored 91 censored-last-recording (91, ...',
  ],
  [
    'end not inclusive: a negative on b counts',
    { recordings: [sinus(90)] },
    EXCLUSIVE,
    'censored 90 censored-last-recording (90, ...',
  ],
  [
    'end not inclusive: a negative on b - 1 does not',
    { recordings: [sinus(89)] },
    EXCLUSIVE,
    'excluded no-recording-after-blanking',
  ],
  [
    'a negative counts on the last day it recorded',
    { recordings: [sinus(85, { endDay: 99, grade: '14d' })] },
    {},
    'censored 99 censored-last-recording (99, ...',
  ],
  [
    'a contact never extends time',
    { recordings: [sinus(120)], contacts: [500] },
    {},
    'censored 120 censored-last-recording (120, ...',
  ],
  ['a contact alone is no recording', { contacts: [200] }, {}, 'excluded no-recording-after-blanking'],
  [
    'a baseline negative does not count',
    { recordings: [sinus(-5)] },
    { blankingDays: 0 },
    'excluded no-recording-after-blanking',
  ],
  [
    'a recording begun before the procedure is baseline, even when it ran on',
    { recordings: [sinus(-5, { endDay: 120 })] },
    {},
    'excluded no-recording-after-blanking',
  ],
  [
    'day 0 is blanked when b = 0 inclusive',
    { recordings: [sinus(0)] },
    { blankingDays: 0 },
    'excluded no-recording-after-blanking',
  ],
  [
    'day 0 counts when nothing is blanked',
    { recordings: [sinus(0)] },
    NO_BLANKING,
    'censored 0 censored-last-recording (0, ...',
  ],
  [
    'evidence: an ECG is less than 24 h',
    { recordings: [sinus(120, { grade: '24h' }), sinus(400)] },
    { evidenceForFreedom: '24h' },
    'censored 120 censored-last-recording (120, ...',
  ],
  [
    'evidence: exactly the grade asked for is enough',
    { recordings: [sinus(120, { grade: '7d' })] },
    { evidenceForFreedom: '7d' },
    'censored 120 censored-last-recording (120, ...',
  ],
  [
    'evidence: 14 days are less than an implanted device',
    { recordings: [sinus(120, { grade: '14d' })] },
    { evidenceForFreedom: 'continuous' },
    'excluded no-recording-after-blanking',
  ],
  [
    'evidence asks nothing of a positive: an ECG shows recurrence',
    { recordings: [sinus(120, { grade: '7d' }), recorded('af', 200)] },
    { evidenceForFreedom: '7d' },
    'event 200 recording-af (120, 200]',
  ],
];

describe('time to event: recordings that found none', () => {
  it.each(NEGATIVES)('%s', checkRow);
});
