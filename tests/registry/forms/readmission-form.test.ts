import { describe, expect, it } from 'vitest';
import { calendarDay as day } from '@/lib/registry/calendar-day';
import {
  checkReadmissionAgainstCase,
  emptyReadmissionForm,
  type ReadmissionContext,
  readmissionFormSchema,
} from '@/lib/registry/forms/readmission-form';
import { voidFormSchema } from '@/lib/registry/forms/void-form';
import { fieldsOf, refusalsOf } from './findings-of';

const typed = { admittedOn: '2024-03-20', dischargedOn: '2024-03-22', cause: 'arrhythmia' };
const context: ReadmissionContext = {
  performedOn: day('2024-03-01'),
  dischargedOn: day('2024-03-03'),
  today: day('2024-12-01'),
  diedOn: null,
  nextPerformedOn: null,
  others: [],
  hasComplication: false,
};
const check = (input: Partial<typeof typed>, change: Partial<ReadmissionContext> = {}) =>
  checkReadmissionAgainstCase(readmissionFormSchema.parse({ ...typed, ...input }), { ...context, ...change });

describe('the form of a readmission', () => {
  it('needs its day and its cause', () => {
    expect(refusalsOf(readmissionFormSchema, emptyReadmissionForm).map(([field]) => field)).toEqual([
      'admittedOn',
      'cause',
    ]);
  });

  it('refuses a discharge before the admission, and takes one on its day', () => {
    const refused = (dischargedOn: string) =>
      refusalsOf(readmissionFormSchema, { ...typed, dischargedOn }).map(([field]) => field);
    expect(refused('2024-03-19')).toEqual(['dischargedOn']);
    expect(refused('2024-03-20')).toEqual([]);
    expect(refused('')).toEqual([]);
  });
});

describe('a readmission against its case', () => {
  const earlier = { admittedOn: day('2024-03-10'), dischargedOn: day('2024-03-20') };

  it('finds nothing in an ordinary one, nor in one that begins as another ends', () => {
    expect(check({})).toEqual([]);
    expect(check({}, { others: [earlier] })).toEqual([]);
    expect(check({ admittedOn: '2024-03-03' })).toEqual([]);
  });

  it.each<[string, string, Partial<typeof typed>, Partial<ReadmissionContext>]>([
    ['one before the procedure', 'admittedOn', { admittedOn: '2024-02-28' }, {}],
    ['one before the discharge', 'admittedOn', { admittedOn: '2024-03-02' }, {}],
    ['one in the future', 'admittedOn', { admittedOn: '2024-12-02', dischargedOn: '' }, {}],
    [
      'a discharge in the future',
      'dischargedOn',
      { admittedOn: '2024-11-28', dischargedOn: '2024-12-02' },
      {},
    ],
    ['one after death', 'admittedOn', { dischargedOn: '' }, { diedOn: day('2024-03-19') }],
    ['a discharge after death', 'dischargedOn', {}, { diedOn: day('2024-03-21') }],
    ['one after the next procedure', 'admittedOn', {}, { nextPerformedOn: day('2024-03-19') }],
    ['one within another', 'admittedOn', { admittedOn: '2024-03-12' }, { others: [earlier] }],
    [
      'one while another has not ended',
      'admittedOn',
      {},
      { others: [{ admittedOn: day('2024-03-10'), dischargedOn: null }] },
    ],
  ])('refuses %s', (_what, field, input, change) => {
    expect(fieldsOf(check(input, change), 'refusal')).toEqual([field]);
  });

  it('asks about a complication that nobody reported, and a very long stay', () => {
    expect(fieldsOf(check({ cause: 'complication' }), 'warning')).toEqual(['cause']);
    expect(check({ cause: 'complication' }, { hasComplication: true })).toEqual([]);
    expect(check({ dischargedOn: '2024-05-19' })).toEqual([]);
    expect(fieldsOf(check({ dischargedOn: '2024-05-20' }), 'warning')).toEqual(['dischargedOn']);
  });
});

it('an entry becomes void with a reason only', () => {
  expect(refusalsOf(voidFormSchema, { version: 1, reason: '' }).map(([field]) => field)).toEqual(['reason']);
  expect(voidFormSchema.parse({ version: '2', reason: 'entered-twice' })).toEqual({
    version: 2,
    reason: 'entered-twice',
  });
});
