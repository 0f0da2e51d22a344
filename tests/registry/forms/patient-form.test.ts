import { zodResolver } from '@hookform/resolvers/zod';
import { describe, expect, it } from 'vitest';
import { calendarDay } from '@/lib/registry/calendar-day';
import { checkPatientAgainstHistory, isAgePossible } from '@/lib/registry/forms/patient-checks';
import {
  emptyPatientForm,
  type PatientForm,
  patientAmendmentSchema,
  patientFormSchema,
} from '@/lib/registry/forms/patient-form';
import { fieldsOf, refusalsOf } from './findings-of';

const typed = { ...emptyPatientForm, birthYear: '1950', sex: 'female' };

describe('patient form', () => {
  it('needs a birth year and a sex, nothing else', () => {
    expect(refusalsOf(patientFormSchema, emptyPatientForm)).toEqual([
      ['birthYear', 'Birth year is missing. Write it in figures.'],
      ['sex', 'Sex is missing. Choose one of the list.'],
    ]);
    expect(patientFormSchema.parse(typed)).toEqual({
      birthYear: 1950,
      sex: 'female',
      hospitalNumber: null,
      regionCode: null,
      diedOn: null,
      deathCause: null,
      deathRelated: null,
      consentWithdrawnOn: null,
      transferredOn: null,
    });
  });

  it('accepts what it gave, so that a draft or an edit may come back', () => {
    const once = patientFormSchema.parse({
      ...typed,
      hospitalNumber: 'ab 12',
      diedOn: '2024-5-3',
      deathCause: 'stroke',
    });
    expect(patientFormSchema.parse(once)).toEqual(once);
    expect(patientFormSchema.parse(JSON.parse(JSON.stringify(once)))).toEqual(once);
  });

  it.each([
    ['birthYear', '1889', /^Birth year: 1889 is not possible\. It must lie from 1890 to 2100/],
    ['birthYear', '12.03.1950', /^Birth year is not a number/],
    ['sex', 'f', /^Sex is none of the choices/],
    ['hospitalNumber', 'x', /^Hospital number has not the right form/],
    ['hospitalNumber', 'somebody@home', /^Hospital number has not the right form/],
    ['regionCode', 'Old Town', /^Referring region has not the right form/],
    ['deathCause', 'stroke', /^Cause of death: there is no day of death\. Give the day of death, or clear/],
    ['deathRelated', 'related', /there is no day of death/],
    ['diedOn', '3.5.2024', /^Day of death is not written as a day/],
  ])('refuses %s %j', (field, value, message) => {
    expect(refusalsOf(patientFormSchema, { ...typed, [field]: value })).toEqual([
      [field, expect.stringMatching(message)],
    ]);
  });

  it('does not call a day missing that could not be read', () => {
    const refused = refusalsOf(patientFormSchema, { ...typed, diedOn: '3.5.2024', deathCause: 'stroke' });
    expect(refused.map(([field]) => field)).toEqual(['diedOn']);
  });

  it('never repeats a hospital number', () => {
    const [[, message] = ['', '']] = refusalsOf(patientFormSchema, { ...typed, hospitalNumber: 'A_4711_B' });
    expect(message).not.toContain('4711');
  });

  it('gives one number one writing, so that it has one hash', () => {
    const numbers = [' ab 12-3 ', 'AB12-3', 'ａｂ12-3'].map(
      (hospitalNumber) => patientFormSchema.parse({ ...typed, hospitalNumber }).hospitalNumber,
    );
    expect(new Set(numbers)).toEqual(new Set(['AB12-3']));
  });

  it('refuses fields that could hold a name', () => {
    expect(refusalsOf(patientFormSchema, { ...typed, name: 'x' })[0]?.[1]).toMatch(/does not know "name"/);
  });

  it('is amended with the version seen and a reason, all findings at once', () => {
    expect(
      refusalsOf(patientAmendmentSchema, { ...emptyPatientForm, deathCause: 'stroke' }).map(
        ([field]) => field,
      ),
    ).toEqual(['birthYear', 'sex', 'version', 'reason', 'deathCause']);
    const amended = patientAmendmentSchema.parse({ ...typed, version: '3', reason: 'typing-error' });
    expect(amended).toMatchObject({ version: 3, reason: 'typing-error', birthYear: 1950 });
    expect(refusalsOf(patientFormSchema, { ...typed, version: 1 })).toHaveLength(1);
  });

  it('serves the browser unchanged: the same findings beside the same fields', async () => {
    const resolve = zodResolver(patientFormSchema);
    const options = { fields: {}, shouldUseNativeValidation: false };
    const refused = await resolve({ ...emptyPatientForm, regionCode: 'Old Town' }, undefined, options);
    expect(Object.keys(refused.errors)).toEqual(['birthYear', 'sex', 'regionCode']);
    expect(await resolve(typed, undefined, options)).toEqual({
      errors: {},
      values: patientFormSchema.parse(typed),
    });
  });
});

describe('a patient against the history', () => {
  const today = calendarDay('2024-06-15');
  const patient = (change: Partial<PatientForm> = {}): PatientForm => ({
    ...patientFormSchema.parse(typed),
    ...change,
  });
  const history = { today, procedures: [], lastSeenOn: null };
  const check = (change: Partial<PatientForm>, more = {}) =>
    checkPatientAgainstHistory(patient(change), { ...history, ...more });

  it('finds nothing in an ordinary entry', () => {
    expect(check({})).toEqual([]);
    expect(check({ diedOn: today }, { lastSeenOn: today })).toEqual([]);
  });

  it.each([
    ['birthYear', { birthYear: 2025 }, {}],
    ['birthYear', {}, { procedures: [{ performedOn: calendarDay('2020-03-01'), ageYears: 65 }] }],
    ['diedOn', { diedOn: calendarDay('2024-06-16') }, {}],
    ['diedOn', { diedOn: calendarDay('1949-12-31') }, {}],
    ['diedOn', { diedOn: calendarDay('2024-06-01') }, { lastSeenOn: calendarDay('2024-06-02') }],
    ['consentWithdrawnOn', { consentWithdrawnOn: calendarDay('2024-06-16') }, {}],
    ['transferredOn', { transferredOn: calendarDay('2024-06-16') }, {}],
  ])('refuses %s in %j with %j', (field, change, more) => {
    expect(fieldsOf(check(change, more), 'refusal')).toEqual([field]);
  });

  it('questions a very early birth year', () => {
    expect(fieldsOf(check({ birthYear: 1918 }), 'warning')).toEqual(['birthYear']);
    expect(check({ birthYear: 1919 })).toEqual([]);
  });

  it('lets a birth year stand for two ages on any day', () => {
    const day = calendarDay('2020-03-01');
    expect([68, 69, 70, 71].map((age) => isAgePossible(1950, day, age))).toEqual([false, true, true, false]);
  });
});
