import { describe, it } from 'vitest';
import { recorded } from './time-to-event-cases';
import { checkRow, EXCLUSIVE, MUST_BE_OFF, RESUMPTION, type Row, sinus } from './time-to-event-truth-table';

const DRUGS: readonly Row[] = [
  [
    'drugs ignored: nothing a patient takes matters',
    { drugs: [{ start: 0, stop: null }], recordings: [sinus(200)] },
    {},
    'censored 200 censored-last-recording (200, ...',
  ],
  [
    'must be off: continued over b fails on b + 1',
    { drugs: [{ start: -30, stop: 200 }], recordings: [sinus(200)] },
    MUST_BE_OFF,
    'event 91 drug exact',
  ],
  [
    'must be off: last taken on b is off in time',
    { drugs: [{ start: -30, stop: 90 }], drugReviews: [200], recordings: [sinus(200)] },
    MUST_BE_OFF,
    'censored 200 censored-last-recording (200, ...',
  ],
  [
    'must be off: last taken on b + 1 is not',
    { drugs: [{ start: -30, stop: 91 }], drugReviews: [200], recordings: [sinus(200)] },
    MUST_BE_OFF,
    'event 91 drug exact',
  ],
  [
    'must be off: end not inclusive, last taken on b fails on b',
    { drugs: [{ start: -30, stop: 90 }], drugReviews: [200] },
    { ...MUST_BE_OFF, ...EXCLUSIVE },
    'event 90 drug exact',
  ],
  [
    'must be off: a later start is the first day on it',
    { drugs: [{ start: 150, stop: null }], recordings: [sinus(120)] },
    MUST_BE_OFF,
    'event 150 drug exact',
  ],
  [
    'must be off: on it without a stop, but never asked again: unknown',
    { drugs: [{ start: -30, stop: null }], recordings: [sinus(200)] },
    MUST_BE_OFF,
    'excluded drug-status-unknown-after-blanking',
  ],
  [
    'must be off: on it without a stop, asked later: on it',
    { drugs: [{ start: -30, stop: null }], drugReviews: [120] },
    MUST_BE_OFF,
    'event 91 drug exact',
  ],
  [
    'unknown status: censored at the last negative while known',
    { drugReviews: [150], recordings: [sinus(120), sinus(300)] },
    MUST_BE_OFF,
    'censored 120 censored-drug-status-unknown (120, ...',
  ],
  [
    'unknown status: a negative on the last known day counts',
    { drugReviews: [150], recordings: [sinus(150), sinus(300)] },
    MUST_BE_OFF,
    'censored 150 censored-drug-status-unknown (150, ...',
  ],
  [
    'unknown status: a later recurrence is not seen',
    { drugReviews: [150], recordings: [sinus(120), recorded('af', 151)] },
    MUST_BE_OFF,
    'censored 120 censored-drug-status-unknown (120, ...',
  ],
  [
    'unknown status: a recurrence on the last known day is seen',
    { drugReviews: [150], recordings: [sinus(120), recorded('af', 150)] },
    MUST_BE_OFF,
    'event 150 recording-af (120, 150]',
  ],
  [
    'unknown status: nothing lost, so not the reason',
    { drugReviews: [150], recordings: [sinus(120)] },
    MUST_BE_OFF,
    'censored 120 censored-last-recording (120, ...',
  ],
  [
    'unknown status: known in blanking only',
    { drugReviews: [90], recordings: [sinus(120)] },
    MUST_BE_OFF,
    'excluded drug-status-unknown-after-blanking',
  ],
  [
    'unknown status: without a recording either, the recording is what lacks',
    { drugReviews: [90] },
    MUST_BE_OFF,
    'excluded no-recording-after-blanking',
  ],
  [
    'unknown status: asked only before the procedure',
    { drugReviews: [-10], recordings: [sinus(120)] },
    MUST_BE_OFF,
    'excluded drug-status-unknown-after-blanking',
  ],
  [
    'unknown status matters to resumption too',
    { recordings: [sinus(120)] },
    RESUMPTION,
    'excluded drug-status-unknown-after-blanking',
  ],
  [
    'unknown status: a death in blanking is seen all the same',
    { death: 20 },
    { ...MUST_BE_OFF, deathRule: 'competing' },
    'competing death 20 death (90, ...',
  ],
  [
    'unknown status: a later death is not',
    { death: 200, drugReviews: [120], recordings: [sinus(120)] },
    { ...MUST_BE_OFF, deathRule: 'competing' },
    'censored 120 censored-drug-status-unknown (120, ...',
  ],
  [
    'resumption: continued over b is none',
    { drugs: [{ start: -30, stop: null }], drugReviews: [200], recordings: [sinus(200)] },
    RESUMPTION,
    'censored 200 censored-last-recording (200, ...',
  ],
  [
    'resumption: a start after one drug-free day',
    {
      drugs: [
        { start: -30, stop: 148 },
        { start: 150, stop: null },
      ],
    },
    RESUMPTION,
    'event 150 drug exact',
  ],
  [
    'resumption: a start on the day after the last dose is a change',
    {
      drugs: [
        { start: -30, stop: 149 },
        { start: 150, stop: null },
      ],
      drugReviews: [200],
      recordings: [sinus(200)],
    },
    RESUMPTION,
    'censored 200 censored-last-recording (200, ...',
  ],
  [
    'resumption: a second drug beside a running one is none',
    {
      drugs: [
        { start: -30, stop: null },
        { start: 150, stop: 160 },
      ],
      drugReviews: [200],
      recordings: [sinus(200)],
    },
    RESUMPTION,
    'censored 200 censored-last-recording (200, ...',
  ],
  [
    'resumption: a start in blanking is none, even when continued',
    { drugs: [{ start: 90, stop: 120 }], drugReviews: [200], recordings: [sinus(200)] },
    RESUMPTION,
    'censored 200 censored-last-recording (200, ...',
  ],
  [
    'resumption: a first start on b + 1 counts',
    { drugs: [{ start: 91, stop: 120 }] },
    RESUMPTION,
    'event 91 drug exact',
  ],
  [
    'resumption: two started together count once, that day',
    {
      drugs: [
        { start: 150, stop: 150 },
        { start: 150, stop: null },
      ],
    },
    RESUMPTION,
    'event 150 drug exact',
  ],
];

const CARDIOVERSION: readonly Row[] = [
  [
    'cardioversion not counted: ignored',
    { cardioversions: [150], recordings: [sinus(200)] },
    {},
    'censored 200 censored-last-recording (200, ...',
  ],
  [
    'cardioversion counted: on its day, exactly',
    { cardioversions: [150], recordings: [sinus(120), sinus(200)] },
    { cardioversionCounts: true },
    'event 150 cardioversion exact',
  ],
  [
    'cardioversion on b: never carried over',
    { cardioversions: [90], recordings: [sinus(200)] },
    { cardioversionCounts: true },
    'censored 200 censored-last-recording (200, ...',
  ],
  [
    'cardioversion on b + 1 counts',
    { cardioversions: [91] },
    { cardioversionCounts: true },
    'event 91 cardioversion exact',
  ],
  [
    'one day: recording before cardioversion',
    { cardioversions: [150], recordings: [recorded('af', 150)] },
    { cardioversionCounts: true },
    'event 150 recording-af (90, 150]',
  ],
  [
    'one day: cardioversion before drug',
    { cardioversions: [150], drugs: [{ start: 150, stop: null }] },
    { ...MUST_BE_OFF, cardioversionCounts: true },
    'event 150 cardioversion exact',
  ],
];

describe('time to event: class I and III drugs', () => {
  it.each(DRUGS)('%s', checkRow);
});

describe('time to event: cardioversion', () => {
  it.each(CARDIOVERSION)('%s', checkRow);
});
