import { describe, expect, it } from 'vitest';
import { calendarDay as day } from '@/lib/registry/calendar-day';
import { DEFAULT_SLOTS, planOf } from '@/lib/registry/follow-up-schedule';
import { emptyRecording } from '@/lib/registry/forms/recording-entries';
import { checkVisitAgainstCase, type VisitContext } from '@/lib/registry/forms/visit-checks';
import { emptyVisitForm, visitFormSchema } from '@/lib/registry/forms/visit-form';
import { fieldsOf } from './findings-of';

const typed = { ...emptyVisitForm, slot: 'month-3', visitedOn: '2024-04-10', mode: 'clinic' };
const ecg = { ...emptyRecording, kind: 'ecg', startedOn: '2024-04-10', rhythm: 'sinus', source: 'seen' };
const holter = { ...ecg, kind: 'holter', startedOn: '2024-04-08', hours: '48' };
const context: VisitContext = {
  performedOn: day('2024-01-10'),
  today: day('2024-05-01'),
  diedOn: null,
  nextPerformedOn: null,
  plan: planOf(day('2024-01-10'), DEFAULT_SLOTS),
};
const check = (input: Record<string, unknown>, change: Partial<VisitContext> = {}) =>
  checkVisitAgainstCase(visitFormSchema.parse({ ...typed, ...input }), { ...context, ...change });
const recording = (change: Record<string, unknown>) => ({ recordings: [{ ...ecg, ...change }] });
const drug = (startedOn: string, stoppedOn = '', code = 'sotalol') => ({
  drugs: [{ drug: code, startedOn, stoppedOn }],
});
const stored = (startedOn: string, stoppedOn: string | null) => ({
  drugEpisodes: [
    { drug: 'sotalol', startedOn: day(startedOn), stoppedOn: stoppedOn === null ? null : day(stoppedOn) },
  ],
});

describe('a visit against its case', () => {
  it('finds nothing in an ordinary visit', () => {
    const input = { ...drug('2024-02-01', '2024-03-01'), recordings: [ecg, holter] };
    expect(check({ ...input, cardioversionKind: 'electrical', cardioversionOn: '2024-03-05' })).toEqual([]);
  });

  it.each<[string, string, Record<string, unknown>, Partial<VisitContext>]>([
    ['a visit in the future', 'visitedOn', { slot: 'unscheduled', visitedOn: '2024-05-02' }, {}],
    ['a visit before the procedure', 'visitedOn', { slot: 'unscheduled', visitedOn: '2024-01-09' }, {}],
    ['a visit after death', 'visitedOn', {}, { diedOn: day('2024-04-09') }],
    ['a visit after the next procedure', 'visitedOn', {}, { nextPerformedOn: day('2024-04-09') }],
    [
      'a visit already entered',
      'visitedOn',
      {},
      { otherVisits: [{ slot: 'month-3', visitedOn: day('2024-04-10') }] },
    ],
    [
      'a cardioversion in the future',
      'cardioversionOn',
      { cardioversionKind: 'electrical', cardioversionOn: '2024-05-02' },
      {},
    ],
    ['a drug started in the future', 'drugs.0.startedOn', drug('2024-05-02'), {}],
    ['a drug stopped in the future', 'drugs.0.stoppedOn', drug('2024-02-01', '2024-05-02'), {}],
    [
      'a drug over a stored open episode',
      'drugs.0.startedOn',
      drug('2024-02-01'),
      stored('2024-01-01', null),
    ],
    [
      'a drug over the last day of a stored episode',
      'drugs.0.startedOn',
      drug('2024-02-01'),
      stored('2024-01-01', '2024-02-01'),
    ],
    ['a recording in the future', 'recordings.0.startedOn', recording({ startedOn: '2024-05-02' }), {}],
    [
      'a recording after death',
      'recordings.0.startedOn',
      { ...recording({}), visitedOn: '2024-04-09' },
      { diedOn: day('2024-04-09') },
    ],
    [
      'a recording that cannot have ended yet',
      'recordings.0.hours',
      recording({ kind: 'holter', hours: '528' }),
      {},
    ],
    [
      'an episode in the future',
      'recordings.0.episodeEndedOn',
      recording({
        kind: 'implanted',
        rhythm: 'af',
        wholeTracing: true,
        episodeStartedOn: '2024-04-10',
        episodeEndedOn: '2024-05-02',
      }),
      {},
    ],
  ])('refuses %s', (_what, field, input, change) => {
    expect(fieldsOf(check(input, change), 'refusal')).toEqual([field]);
  });

  it.each<[string, Record<string, unknown>, Partial<VisitContext>]>([
    ['a visit today', { slot: 'unscheduled', visitedOn: '2024-05-01' }, {}],
    ['a visit on the procedure day', { slot: 'unscheduled', visitedOn: '2024-01-10' }, {}],
    ['a visit on the day of death', {}, { diedOn: day('2024-04-10') }],
    ['a visit on the day of the next procedure', {}, { nextPerformedOn: day('2024-04-10') }],
    ['another slot on the same day', {}, { otherVisits: [{ slot: 'day-90', visitedOn: day('2024-04-10') }] }],
    [
      'the same slot on another day',
      {},
      { otherVisits: [{ slot: 'month-3', visitedOn: day('2024-04-11') }] },
    ],
    ['a drug that closes a stored episode', drug('2024-01-01', '2024-03-01'), stored('2024-01-01', null)],
    ['a drug after a stored episode', drug('2024-02-02'), stored('2024-01-01', '2024-02-01')],
    ['another drug over a stored episode', drug('2024-02-01', '', 'amiodarone'), stored('2024-01-01', null)],
    ['a recording that can have ended today', recording({ kind: 'holter', hours: '527' }), {}],
    ['the first day of the window', { visitedOn: '2024-03-27' }, {}],
    ['the last day of the window', { visitedOn: '2024-05-25' }, { today: day('2024-06-01') }],
    ['no schedule to compare with', { visitedOn: '2024-01-20' }, { plan: [] }],
  ])('accepts %s', (_what, input, change) => {
    expect(check(input, change)).toEqual([]);
  });

  it('closes one stored episode and starts the next in the same visit', () => {
    const drugs = [
      { drug: 'sotalol', startedOn: '2024-01-01', stoppedOn: '2024-02-01' },
      { drug: 'sotalol', startedOn: '2024-03-01', stoppedOn: '' },
    ];
    expect(check({ drugs }, stored('2024-01-01', null))).toEqual([]);
    expect(fieldsOf(check({ drugs: drugs.slice(1) }, stored('2024-01-01', null)), 'refusal')).toEqual([
      'drugs.0.startedOn',
    ]);
  });

  it.each<[string, string, Record<string, unknown>, Partial<VisitContext>]>([
    ['a day before the window', 'visitedOn', { visitedOn: '2024-03-26' }, {}],
    ['a day after the window', 'visitedOn', { visitedOn: '2024-05-26' }, { today: day('2024-06-01') }],
    [
      'a recording before the procedure',
      'recordings.0.startedOn',
      recording({ startedOn: '2024-01-09' }),
      {},
    ],
    ['a recording after the visit', 'recordings.0.startedOn', recording({ startedOn: '2024-04-11' }), {}],
    ['a continuous recording without hours', 'recordings.0.hours', recording({ kind: 'holter' }), {}],
    [
      'a continuous recording under 24 h',
      'recordings.0.hours',
      recording({ kind: 'holter', hours: '23.99' }),
      {},
    ],
    ['an ECG of hours', 'recordings.0.hours', recording({ hours: '2' }), {}],
    [
      'an arrhythmia of unknown length',
      'recordings.0.longestEpisodeSeconds',
      recording({ rhythm: 'af' }),
      {},
    ],
    [
      'an arrhythmia somewhere in several days',
      'recordings.0.episodeStartedOn',
      {
        recordings: [
          { ...holter, startedOn: '2024-04-01', hours: '168', rhythm: 'af', longestEpisodeSeconds: '600' },
        ],
      },
      {},
    ],
    [
      'seconds that days leave no room for',
      'recordings.0.longestEpisodeSeconds',
      {
        recordings: [
          {
            ...holter,
            rhythm: 'af',
            episodeStartedOn: '2024-04-08',
            episodeEndedOn: '2024-04-10',
            longestEpisodeSeconds: '60',
          },
        ],
      },
      {},
    ],
  ])('questions %s', (_what, field, input, change) => {
    const found = check(input, change);
    expect([fieldsOf(found, 'refusal'), fieldsOf(found, 'warning')]).toEqual([[], [field]]);
  });

  it('says where a stored episode stands and how to mend it', () => {
    expect(check(drug('2024-02-01'), stored('2024-01-01', null))[0]?.message).toBe(
      'Started on: Sotalol is already recorded from 2024-01-01 and still taken. To close or mend that episode, enter it with the same start.',
    );
  });
});
