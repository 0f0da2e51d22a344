import { describe, expect, it } from 'vitest';
import type { EndpointRules } from '@/lib/registry/endpoint-definition';
import { deriveOutcomes } from '@/lib/registry/time-to-event';
import { cohortOf, recorded } from './time-to-event-cases';
import {
  BASE,
  checkRow,
  EXCLUSIVE,
  MUST_BE_OFF,
  NO_BLANKING,
  type Row,
  sinus,
} from './time-to-event-truth-table';

const REPEAT_AND_DEATH: readonly Row[] = [
  [
    'start first: a later procedure is not analysed',
    { ordinal: 2, recordings: [sinus(200)] },
    {},
    'excluded not-first-procedure',
  ],
  [
    'start last: a procedure with a next one is not analysed',
    { next: 200, recordings: [sinus(120)] },
    { start: 'last-procedure', repeatRule: 'new-start' },
    'excluded not-last-procedure',
  ],
  [
    'start last: the last one has its own blanking',
    { ordinal: 3, recordings: [recorded('af', 60), sinus(200)] },
    { start: 'last-procedure', repeatRule: 'new-start' },
    'censored 200 censored-last-recording (200, ...',
  ],
  [
    'start each: a later procedure counts by itself',
    { ordinal: 2, recordings: [sinus(200)] },
    { start: 'each-procedure' },
    'censored 200 censored-last-recording (200, ...',
  ],
  [
    'start each: stops at the next procedure',
    { next: 200, recordings: [sinus(150), recorded('af', 201)] },
    { start: 'each-procedure' },
    'censored 150 censored-at-repeat (150, ...',
  ],
  [
    "start each: a death after the next procedure is the next one's",
    { next: 200, death: 300, recordings: [sinus(150)] },
    { start: 'each-procedure', deathRule: 'failure' },
    'censored 150 censored-at-repeat (150, ...',
  ],
  [
    'repeat as failure: on its day, exactly',
    { next: 200, recordings: [sinus(150)] },
    { repeatRule: 'failure' },
    'event 200 repeat exact',
  ],
  [
    'repeat as failure inside blanking: on b + 1',
    { next: 40 },
    { repeatRule: 'failure' },
    'event 91 repeat exact',
  ],
  [
    'repeat as failure inside blanking, end not inclusive: on b',
    { next: 40 },
    { repeatRule: 'failure', ...EXCLUSIVE },
    'event 90 repeat exact',
  ],
  [
    'repeat as failure: recordings after it are not looked at',
    { next: 40, recordings: [recorded('af', 91)] },
    { repeatRule: 'failure' },
    'event 91 repeat exact',
  ],
  [
    'repeat as failure: an earlier recurrence comes first',
    { next: 200, recordings: [recorded('af', 150)] },
    { repeatRule: 'failure' },
    'event 150 recording-af (90, 150]',
  ],
  [
    'one day: recording before repeat',
    { next: 200, recordings: [recorded('af', 200)] },
    { repeatRule: 'failure' },
    'event 200 recording-af (90, 200]',
  ],
  [
    'one day: drug before repeat',
    { next: 200, drugs: [{ start: 200, stop: null }] },
    { ...MUST_BE_OFF, repeatRule: 'failure' },
    'event 200 drug exact',
  ],
  [
    'one day: recording before drug',
    { drugs: [{ start: 200, stop: null }], recordings: [recorded('at', 200)] },
    MUST_BE_OFF,
    'event 200 recording-at-afl (90, 200]',
  ],
  [
    'one day: repeat before death',
    { next: 200, death: 200 },
    { repeatRule: 'failure', deathRule: 'failure' },
    'event 200 repeat exact',
  ],
  [
    'repeat as censoring: at the last negative on or before it',
    { next: 200, recordings: [sinus(150), sinus(250)] },
    {},
    'censored 150 censored-at-repeat (150, ...',
  ],
  [
    'repeat as censoring: a negative on its day counts',
    { next: 200, recordings: [sinus(150), sinus(200)] },
    {},
    'censored 200 censored-at-repeat (200, ...',
  ],
  [
    'repeat as censoring: a positive on its day counts',
    { next: 200, recordings: [recorded('af', 200)] },
    {},
    'event 200 recording-af (90, 200]',
  ],
  [
    'repeat as censoring: a negative that runs past it does not count',
    { next: 200, recordings: [sinus(150), sinus(195, { endDay: 202, grade: '7d' })] },
    {},
    'censored 150 censored-at-repeat (150, ...',
  ],
  [
    'repeat as censoring: without a negative before it, excluded',
    { next: 200, recordings: [sinus(250)] },
    {},
    'excluded no-recording-before-repeat',
  ],
  [
    'repeat as censoring in blanking: excluded, with that reason',
    { next: 90, recordings: [sinus(250)] },
    {},
    'excluded repeat-in-blanking',
  ],
  [
    'death as censoring: at the last negative on or before it',
    { death: 300, recordings: [sinus(150)] },
    {},
    'censored 150 censored-at-death (150, ...',
  ],
  [
    'death as censoring in blanking: excluded, with that reason',
    { death: 20 },
    {},
    'excluded death-in-blanking',
  ],
  [
    'death as censoring: without a negative before it, excluded',
    { death: 300 },
    {},
    'excluded no-recording-before-death',
  ],
  [
    'death as failure: on its day, exactly',
    { death: 300, recordings: [sinus(150)] },
    { deathRule: 'failure' },
    'event 300 death exact',
  ],
  ['death is never blanked', { death: 20 }, { deathRule: 'failure' }, 'event 20 death exact'],
  [
    'death on the day of the procedure counts',
    { death: 0 },
    { deathRule: 'competing' },
    'competing death 0 death (90, ...',
  ],
  [
    'competing death: kept apart, free up to the last negative',
    { death: 300, recordings: [sinus(150)] },
    { deathRule: 'competing' },
    'competing death 300 death (150, ...',
  ],
  [
    'competing death: a recurrence before it comes first',
    { death: 300, recordings: [recorded('af', 150)] },
    { deathRule: 'competing' },
    'event 150 recording-af (90, 150]',
  ],
  [
    'one day: recording before death',
    { death: 300, recordings: [recorded('af', 300)] },
    { deathRule: 'competing' },
    'event 300 recording-af (90, 300]',
  ],
  [
    'a death before a repeat in blanking could count comes first',
    { next: 20, death: 30 },
    { repeatRule: 'failure', deathRule: 'failure' },
    'event 30 death exact',
  ],
  [
    "start each: that death is the next procedure's",
    { next: 20, death: 30 },
    { start: 'each-procedure', repeatRule: 'failure', deathRule: 'failure' },
    'event 91 repeat exact',
  ],
  [
    'death as censoring does not undo a repeat that failed',
    { next: 20, death: 30 },
    { repeatRule: 'failure' },
    'event 91 repeat exact',
  ],
];

describe('time to event: repeat ablation and death', () => {
  it.each(REPEAT_AND_DEATH)('%s', checkRow);
});

describe('the risk set', () => {
  const entry = (changed: Partial<EndpointRules>) =>
    deriveOutcomes(cohortOf([]), { ...BASE, ...changed }).entryDay;
  it('opens on the last blanked day, so that the first day at risk is the first unblanked one', () => {
    expect(entry({})).toBe(90);
    expect(entry(EXCLUSIVE)).toBe(89);
    expect(entry({ blankingDays: 0 })).toBe(0);
    expect(entry(NO_BLANKING)).toBe(0);
  });
  it('opens on day 0 when death counts', () => {
    expect(entry({ deathRule: 'failure' })).toBe(0);
    expect(entry({ deathRule: 'competing' })).toBe(0);
  });
});
