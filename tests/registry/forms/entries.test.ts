import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isCalendarDay } from '@/lib/registry/calendar-day';
import {
  codeEntry,
  type NumberField,
  numberEntry,
  readChoice,
  readDay,
  readNumber,
  requiredChoiceEntry,
  requiredDayEntry,
  requiredNumberEntry,
  tickEntry,
  yesNoEntry,
} from '@/lib/registry/forms/entries';
import { SEXES } from '@/lib/registry/vocabulary';

const whole: NumberField = { label: 'LVEF', unit: '%', min: 5, max: 90, decimals: 0 };
const tenth: NumberField = { label: 'BMI', unit: 'kg/m2', min: 10, max: 90, decimals: 1 };

describe('a number', () => {
  it.each([
    ['', null],
    ['   ', null],
    [null, null],
    [undefined, null],
    ['45', 45],
    [' 45 ', 45],
    ['45.0', 45],
    ['045', 45],
    ['+45', 45],
    [45, 45],
    ['5', 5],
    ['90', 90],
  ])('reads %j as %j', (typed, value) => {
    expect(readNumber(typed, whole)).toEqual({ value });
  });

  it.each([
    ['12,5', whole, /“12,5” is not a whole number/],
    ['12.5', whole, /“12.5” is not a whole number/],
    ['25,5', tenth, /“25,5” has a comma\. Write a point instead: 25\.5\./],
    ['25.55', tenth, /finer than is kept\. Write at most 1 decimal\./],
    ['4', whole, /^4 % is not possible\. It must lie from 5 to 90 %/],
    ['91', whole, /^91 % is not possible/],
    ['-5', whole, /^-5 % is not possible/],
    ['1e2', whole, /is not a number/],
    ['0x10', whole, /is not a number/],
    ['about 50', whole, /is not a number\. Write a whole number in figures\./],
    ['1 200', tenth, /is not a number\. Write a number in figures/],
    [Number.NaN, whole, /is not a number/],
    [Number.POSITIVE_INFINITY, whole, /is not a number/],
    [true, whole, /is not text/],
    [{}, whole, /is not text/],
    [['45'], whole, /is not text/],
    ['9'.repeat(65), whole, /longer than 64 characters/],
  ])('refuses %j', (typed, field, problem) => {
    expect(readNumber(typed, field)).toEqual({ problem: expect.stringMatching(problem) });
  });

  it('never repeats text that is no number: it may be an identifier', () => {
    fc.assert(
      fc.property(fc.string({ minLength: 3, maxLength: 30 }), (typed) => {
        const reading = readNumber(`q${typed}q`, whole);
        expect('problem' in reading && !reading.problem.includes(`q${typed}q`)).toBe(true);
      }),
    );
  });

  it('reads back every number of its range that it can keep', () => {
    fc.assert(
      fc.property(fc.integer({ min: 100, max: 900 }), (tenths) => {
        expect(readNumber((tenths / 10).toFixed(1), tenth)).toEqual({ value: tenths / 10 });
        expect(readNumber(tenths / 10, tenth)).toEqual({ value: tenths / 10 });
      }),
    );
  });

  it('answers anything at all with a value or a problem, and never throws', () => {
    fc.assert(
      fc.property(fc.anything(), (typed) => {
        const reading = readNumber(typed, tenth);
        expect('value' in reading || reading.problem.length > 0).toBe(true);
      }),
    );
  });
});

describe('a day', () => {
  it.each([
    ['', null],
    ['2024-05-03', '2024-05-03'],
    ['2024-5-3', '2024-05-03'],
    ['2024/05/03', '2024-05-03'],
    ['2024.5.03', '2024-05-03'],
    ['2024-02-29', '2024-02-29'],
  ])('reads %j as %j', (typed, value) => {
    expect(readDay(typed)).toEqual({ value });
  });

  it.each([
    ['03.05.2024', /Write year-month-day/],
    ['3/5/24', /Write year-month-day/],
    ['2024-05/03', /Write year-month-day/],
    ['20240503', /Write year-month-day/],
    ['today', /Write year-month-day/],
    ['2023-02-29', /2023-02-29 is not a day of the calendar/],
    ['2024-13-01', /not a day of the calendar/],
    ['1799-12-31', /outside 1800 to 2199/],
    [20240503, /Write year-month-day/],
  ])('refuses %j', (typed, problem) => {
    expect(readDay(typed)).toEqual({ problem: expect.stringMatching(problem) });
  });

  it('never guesses which of two numbers is the month, and lets only days of the calendar through', () => {
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom(...'0123456789-/.'), maxLength: 10 }), (typed) => {
        const reading = readDay(typed);
        if ('value' in reading && reading.value !== null) {
          expect(isCalendarDay(reading.value)).toBe(true);
          expect(typed.slice(0, 4)).toBe(reading.value.slice(0, 4));
        }
      }),
      { numRuns: 2000 },
    );
  });
});

describe('a choice', () => {
  it('takes codes, not labels, and nothing inherited', () => {
    expect(readChoice('male', ['female', 'male'])).toEqual({ value: 'male' });
    expect(readChoice('', ['female', 'male'])).toEqual({ value: null });
    for (const typed of ['Male', 'x', 'constructor', 'toString', '__proto__']) {
      expect(readChoice(typed, ['female', 'male'])).toHaveProperty('problem');
    }
  });

  it('explains words that are wrong here, however they are written', () => {
    const refused = { chronic: 'has no agreed meaning.' };
    expect(readChoice('Chronic', ['a'], refused)).toEqual({ problem: 'has no agreed meaning.' });
  });
});

describe('an entry', () => {
  const messageOf = (
    schema: { safeParse: (typed: unknown) => { error?: { issues: { message: string }[] } | undefined } },
    typed: unknown,
  ) => schema.safeParse(typed).error?.issues.map((issue) => issue.message);

  it('that is required says what to give', () => {
    expect(messageOf(requiredNumberEntry(whole), '')).toEqual(['LVEF is missing. Write it in figures.']);
    expect(messageOf(requiredDayEntry('Visit day'), null)).toEqual([
      'Visit day is missing. Write year-month-day, such as 2024-05-31.',
    ]);
    expect(messageOf(requiredChoiceEntry('Sex', SEXES), undefined)).toEqual([
      'Sex is missing. Choose one of the list.',
    ]);
  });

  it('names its field once', () => {
    expect(messageOf(numberEntry(tenth), '25,5')).toEqual([
      'BMI: “25,5” has a comma. Write a point instead: 25.5.',
    ]);
    expect(messageOf(numberEntry(tenth), 'much')).toEqual([
      'BMI is not a number. Write a number in figures, such as 12.5.',
    ]);
  });

  it.each([
    ['yes', true],
    ['no', false],
    ['', null],
    [null, null],
    [undefined, null],
    [true, true],
    [false, false],
  ])('yes or no reads %j as %j', (typed, value) => {
    expect(yesNoEntry('COPD').parse(typed)).toBe(value);
    expect(tickEntry('COPD').parse(typed)).toBe(value === true);
  });

  it.each(['on', 'Yes', '1', 1, {}])('yes or no refuses %j', (typed) => {
    expect(messageOf(yesNoEntry('COPD'), typed)).toHaveLength(1);
  });

  it('of a fixed shape never repeats what was typed', () => {
    const schema = codeEntry('Region', /^[A-Z]{2}$/, 'Use two capital letters.');
    expect(schema.parse(' AB ')).toBe('AB');
    expect(schema.parse('')).toBeNull();
    expect(messageOf(schema, 'somebody')).toEqual([
      'Region has not the right form. Use two capital letters.',
    ]);
  });
});
