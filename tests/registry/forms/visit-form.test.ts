import { zodResolver } from '@hookform/resolvers/zod';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addDays, type CalendarDay, calendarDay } from '@/lib/registry/calendar-day';
import { VISIT_LABELS } from '@/lib/registry/forms/field-labels';
import { emptyRecording, spanOfRecording } from '@/lib/registry/forms/recording-entries';
import {
  doOverlap,
  emptyDrugRow,
  emptyVisitForm,
  MOST_DRUG_ROWS,
  MOST_RECORDINGS,
  UNSCHEDULED,
  visitAmendmentSchema,
  visitFormSchema,
} from '@/lib/registry/forms/visit-form';
import { refusalsOf } from './findings-of';

const typed = { ...emptyVisitForm, slot: 'month-3', visitedOn: '2024-04-10', mode: 'clinic' };
const ecg = { ...emptyRecording, kind: 'ecg', startedOn: '2024-04-10', rhythm: 'sinus', source: 'seen' };
const holter = {
  ...emptyRecording,
  kind: 'holter',
  startedOn: '2024-04-01',
  hours: '48',
  rhythm: 'af',
  source: 'seen',
};
const withRecording = (recording: Record<string, unknown>) => ({ ...typed, recordings: [recording] });
const withDrugs = (...drugs: Record<string, unknown>[]) => ({ ...typed, drugs });
const recordingIn = (recording: Record<string, unknown>) => {
  const [first] = visitFormSchema.parse(withRecording(recording)).recordings;
  if (!first) throw new Error('no recording');
  return first;
};

describe('visit form', () => {
  it('needs a visit, a day and a mode', () => {
    expect(refusalsOf(visitFormSchema, emptyVisitForm).map(([field]) => field)).toEqual([
      'slot',
      'visitedOn',
      'mode',
    ]);
    expect(visitFormSchema.parse(typed)).toEqual({
      slot: 'month-3',
      visitedOn: '2024-04-10',
      mode: 'clinic',
      rhythm: null,
      symptoms: null,
      drugsReviewed: false,
      anticoagulated: null,
      cardioversionKind: null,
      cardioversionOn: null,
      drugs: [],
      recordings: [],
    });
  });

  it.each([UNSCHEDULED, 'day-7', 'month-120'])('takes the slot %s', (slot) => {
    expect(visitFormSchema.parse({ ...typed, slot }).slot).toBe(slot);
  });

  it.each(['year-1', 'day-0', 'month-', 'Day-7', 'somewhen'])('refuses the slot %s', (slot) => {
    expect(refusalsOf(visitFormSchema, { ...typed, slot }).map(([field]) => field)).toEqual(['slot']);
  });

  it('says everything at once, rows included', () => {
    const refused = refusalsOf(visitFormSchema, {
      ...emptyVisitForm,
      cardioversionKind: 'electrical',
      drugs: [
        { ...emptyDrugRow, drug: 'sotalol' },
        { drug: 'aspirin', startedOn: '2024-01-01', stoppedOn: 'soon' },
      ],
      recordings: [
        { ...holter, episodeStartedOn: '2024-04-09' },
        { ...ecg, hours: 'x', wholeTracing: true },
      ],
    });
    expect(refused.map(([field]) => field)).toEqual([
      'slot',
      'visitedOn',
      'mode',
      'drugs.0.startedOn',
      'drugs.1.drug',
      'drugs.1.stoppedOn',
      'recordings.0.episodeStartedOn',
      'recordings.1.hours',
      'recordings.1.wholeTracing',
      'cardioversionOn',
    ]);
  });

  it('wants kind and day of a cardioversion together', () => {
    const cardioversion = (cardioversionKind: string, cardioversionOn: string) =>
      refusalsOf(visitFormSchema, { ...typed, cardioversionKind, cardioversionOn }).map(([field]) => field);
    expect(cardioversion('electrical', '2024-04-10')).toEqual([]);
    expect(cardioversion('electrical', '')).toEqual(['cardioversionOn']);
    expect(cardioversion('', '2024-04-10')).toEqual(['cardioversionKind']);
    expect(cardioversion('electrical', '10.4.2024')).toEqual(['cardioversionOn']);
  });

  it('bounds its lists and says what to do', () => {
    const rows = (count: number) => Array.from({ length: count }, () => ecg);
    expect(refusalsOf(visitFormSchema, { ...typed, recordings: rows(MOST_RECORDINGS) })).toEqual([]);
    expect(refusalsOf(visitFormSchema, { ...typed, recordings: rows(MOST_RECORDINGS + 1) })).toEqual([
      ['recordings', expect.stringMatching(/at most 20 at one visit\. Save these, then/)],
    ]);
    const drugs = Array.from({ length: MOST_DRUG_ROWS + 1 }, (_, i) => ({
      drug: 'sotalol',
      startedOn: `20${String(i).padStart(2, '0')}-01-01`,
      stoppedOn: `20${String(i).padStart(2, '0')}-02-01`,
    }));
    expect(refusalsOf(visitFormSchema, withDrugs(...drugs)).map(([field]) => field)).toEqual(['drugs']);
    expect(refusalsOf(visitFormSchema, { ...typed, drugs: 'x' })[0]?.[1]).toMatch(/could not be read/);
  });

  it('has a label for every field of every row', () => {
    for (let row = 0; row < MOST_RECORDINGS; row += 1) {
      for (const name of Object.keys(emptyRecording))
        expect(VISIT_LABELS[`recordings.${row}.${name}`]).toBeTruthy();
    }
    for (let row = 0; row < MOST_DRUG_ROWS; row += 1) {
      for (const name of Object.keys(emptyDrugRow)) expect(VISIT_LABELS[`drugs.${row}.${name}`]).toBeTruthy();
    }
    expect(VISIT_LABELS['recordings.1.rhythm']).toBe('Recording 2: Rhythm found');
  });

  it('accepts what it gave', () => {
    const once = visitFormSchema.parse({
      ...withDrugs({ drug: 'amiodarone', startedOn: '2024-1-5', stoppedOn: '' }),
      anticoagulated: 'no',
      drugsReviewed: true,
      recordings: [ecg, { ...holter, longestEpisodeSeconds: '90', symptomatic: 'yes' }],
    });
    expect(visitFormSchema.parse(JSON.parse(JSON.stringify(once)))).toEqual(once);
  });

  it('is amended with the version seen and a reason', () => {
    expect(refusalsOf(visitAmendmentSchema, typed).map(([field]) => field)).toEqual(['version', 'reason']);
  });

  it('serves the browser unchanged, rows included', async () => {
    const resolve = zodResolver(visitFormSchema);
    const options = { fields: {}, shouldUseNativeValidation: false };
    const refused = await resolve(
      { ...typed, recordings: [ecg, { ...ecg, rhythm: '' }] },
      undefined,
      options,
    );
    expect(refused.errors).toMatchObject({
      recordings: [undefined, { rhythm: { message: expect.stringMatching(/missing/) } }],
    });
  });

  it('answers any rows at all with findings, never with an exception', () => {
    const row = fc.oneof(
      fc.anything(),
      fc.dictionary(
        fc.constantFrom(...Object.keys(emptyRecording), ...Object.keys(emptyDrugRow)),
        fc.anything(),
      ),
    );
    fc.assert(
      fc.property(fc.array(row, { maxLength: 4 }), fc.array(row, { maxLength: 4 }), (drugs, recordings) => {
        expect(() => refusalsOf(visitFormSchema, { ...typed, drugs, recordings })).not.toThrow();
      }),
    );
  });
});

describe('drug rows', () => {
  const row = (startedOn: string, stoppedOn = '', drug = 'sotalol') => ({ drug, startedOn, stoppedOn });

  it.each([
    ['one after the other', [row('2024-01-01', '2024-01-31'), row('2024-02-01')], []],
    ['stopped on the day it started', [row('2024-01-01', '2024-01-01')], []],
    ['two drugs at once', [row('2024-01-01'), row('2024-01-01', '', 'amiodarone')], []],
    ['stop before start', [row('2024-01-02', '2024-01-01')], ['drugs.0.stoppedOn']],
    ['sharing one day', [row('2024-01-01', '2024-02-01'), row('2024-02-01')], ['drugs.1.startedOn']],
    ['the earlier one still open', [row('2024-01-01'), row('2024-02-01')], ['drugs.1.startedOn']],
    ['in the other order', [row('2024-02-01'), row('2024-01-01')], ['drugs.1.startedOn']],
    ['the same row twice', [row('2024-01-01'), row('2024-01-01')], ['drugs.1.startedOn']],
    [
      'no drug chosen in both: no overlap',
      [row('2024-01-01', '', ''), row('2024-01-01', '', '')],
      ['drugs.0.drug', 'drugs.1.drug'],
    ],
  ])('%s', (_what, drugs, fields) => {
    expect(refusalsOf(visitFormSchema, withDrugs(...drugs)).map(([field]) => field)).toEqual(fields);
  });

  it('overlap both ways or not at all, exactly when they share a day', () => {
    const start = fc.integer({ min: 1, max: 28 });
    const episode = fc.tuple(start, fc.option(fc.nat(10))).map(([from, length]) => ({
      from,
      to: length === null ? 60 : from + length,
      startedOn: dayOf(from),
      stoppedOn: length === null ? null : dayOf(from + length),
    }));
    fc.assert(
      fc.property(episode, episode, (a, b) => {
        const days = Array.from({ length: 61 }, (_, day) => day);
        const share = days.some((day) => day >= a.from && day <= a.to && day >= b.from && day <= b.to);
        expect([doOverlap(a, b), doOverlap(b, a)]).toEqual([share, share]);
      }),
    );
  });
});

describe('a recording', () => {
  it.each<[string, Record<string, unknown>, string[]]>([
    ['sinus rhythm', ecg, []],
    ['sinus rhythm with an empty count', { ...ecg, longestEpisodeSeconds: '0' }, []],
    ['sinus rhythm with an episode', { ...ecg, longestEpisodeSeconds: '30' }, ['longestEpisodeSeconds']],
    ['sinus rhythm that fills the tracing with arrhythmia', { ...ecg, wholeTracing: true }, ['wholeTracing']],
    [
      'sinus rhythm with episode days',
      { ...ecg, episodeStartedOn: '2024-04-10', episodeEndedOn: '2024-04-10' },
      ['episodeStartedOn', 'episodeEndedOn'],
    ],
    ['AF all the way', { ...ecg, rhythm: 'af', wholeTracing: true }, []],
    ['an episode as long as the recording', { ...holter, longestEpisodeSeconds: '172800' }, []],
    [
      'an episode one second longer',
      { ...holter, longestEpisodeSeconds: '172801' },
      ['longestEpisodeSeconds'],
    ],
    ['episode on the first day', { ...holter, episodeStartedOn: '2024-04-01' }, []],
    [
      'episode on the last possible day',
      { ...holter, episodeStartedOn: '2024-04-03', episodeEndedOn: '2024-04-03' },
      [],
    ],
    [
      'episode a day later',
      { ...holter, episodeStartedOn: '2024-04-03', episodeEndedOn: '2024-04-04' },
      ['episodeEndedOn'],
    ],
    ['episode before the recording', { ...holter, episodeStartedOn: '2024-03-31' }, ['episodeStartedOn']],
    [
      'episode that ends before it starts',
      { ...holter, episodeStartedOn: '2024-04-02', episodeEndedOn: '2024-04-01' },
      ['episodeEndedOn'],
    ],
    ['end without start', { ...holter, episodeEndedOn: '2024-04-02' }, ['episodeStartedOn']],
    ['hours not known: any later day', { ...holter, hours: '', episodeStartedOn: '2024-04-20' }, []],
    ['an ECG has one day', { ...ecg, rhythm: 'af', episodeStartedOn: '2024-04-11' }, ['episodeStartedOn']],
    [
      'an unreadable start is not compared',
      { ...holter, episodeStartedOn: '3.4.', episodeEndedOn: '2024-04-02' },
      ['episodeStartedOn'],
    ],
    [
      'unreadable hours are not compared',
      { ...holter, hours: 'two days', episodeStartedOn: '2024-04-09' },
      ['hours'],
    ],
    ['negative hours', { ...holter, hours: '-1' }, ['hours']],
  ])('%s', (_what, recording, fields) => {
    const refused = refusalsOf(visitFormSchema, withRecording(recording));
    expect(refused.map(([field]) => field)).toEqual(fields.map((field) => `recordings.0.${field}`));
  });

  // The clock time of the start is not kept: h hours reach day floor(h / 24) for certain and day ceil(h / 24) at most.
  it.each([
    [{ ...ecg }, '2024-04-10', null],
    [{ ...holter, hours: '23.99' }, '2024-04-01', 1439],
    [{ ...holter, hours: '24' }, '2024-04-02', 1440],
    [{ ...holter, hours: '47' }, '2024-04-02', 2820],
    [{ ...holter, hours: '168' }, '2024-04-08', 10_080],
    [{ ...holter, hours: '36', episodeStartedOn: '2024-04-03' }, '2024-04-03', 2160],
    [{ ...holter, hours: '36', episodeStartedOn: '2024-04-01' }, '2024-04-02', 2160],
    [
      { ...holter, hours: '', episodeStartedOn: '2024-04-02', episodeEndedOn: '2024-04-09' },
      '2024-04-09',
      null,
    ],
  ])('spans its certain days: %j', (recording, endedOn, durationMinutes) => {
    expect(spanOfRecording(recordingIn(recording))).toEqual({ endedOn, durationMinutes });
  });

  it('always holds its episode, as the database demands', () => {
    const offset = fc.option(fc.integer({ min: -3, max: 12 }));
    fc.assert(
      fc.property(fc.option(fc.integer({ min: 0, max: 240 })), offset, offset, (hours, first, last) => {
        const parsed = visitFormSchema.safeParse(
          withRecording({
            ...holter,
            startedOn: dayOf(10),
            hours,
            episodeStartedOn: first === null ? '' : dayOf(10 + first),
            episodeEndedOn: last === null ? '' : dayOf(10 + last),
          }),
        );
        const recording = parsed.data?.recordings[0];
        if (!recording) return;
        const { endedOn } = spanOfRecording(recording);
        expect(endedOn >= recording.startedOn).toBe(true);
        const { episodeStartedOn, episodeEndedOn } = recording;
        if (episodeStartedOn !== null)
          expect(episodeStartedOn >= recording.startedOn && episodeStartedOn <= endedOn).toBe(true);
        if (episodeEndedOn !== null)
          expect(
            episodeStartedOn !== null && episodeEndedOn >= episodeStartedOn && episodeEndedOn <= endedOn,
          ).toBe(true);
      }),
      { numRuns: 500 },
    );
  });
});

function dayOf(day: number): CalendarDay {
  return addDays(calendarDay('2024-03-31'), day);
}
