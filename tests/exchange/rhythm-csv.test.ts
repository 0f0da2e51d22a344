import { describe, expect, it } from 'vitest';
import { dayOfTime } from '@/lib/exchange/rhythm-cells';
import { type DecodedRhythm, decodeRhythmCsv } from '@/lib/exchange/rhythm-csv';
import { calendarDay } from '@/lib/registry/calendar-day';
import { mappingOf } from './mapping-of-tests';

const HEADS = 'id,months,af,arm,sex,age';
const today = calendarDay('2026-01-31');
const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

/** Decodes rows under the heads of the example. */
function decode(rows: readonly string[], changes: Readonly<Record<string, unknown>> = {}): DecodedRhythm {
  const decoded = decodeRhythmCsv(bytesOf([HEADS, ...rows].join('\n')), mappingOf(changes), today);
  if (decoded.kind === 'refused') throw new Error(decoded.finding.reason);
  return decoded;
}

/** Row, code and shown value of each refusal. */
const refusalsOf = ({ refusals }: DecodedRhythm) =>
  refusals.map(({ row, code, value }) => [row, code, value]);

describe('rows of readings', () => {
  it('become patients with readings in the order of the file', () => {
    const decoded = decode(['a,1.0,0,1,f,60', 'b,2,1,2,m,71', 'a,3.5,1,1,f,60']);
    expect(decoded.refusals).toEqual([]);
    expect(decoded.patients).toEqual([
      {
        reference: 'A',
        cohortTag: 'control',
        sex: 'female',
        birthYear: 1963,
        birthYearFrom: 'age',
        ageYears: 60,
        readings: [
          { row: 2, day: 30, rhythm: 'sinus' },
          { row: 4, day: 107, rhythm: 'af' },
        ],
      },
      expect.objectContaining({ reference: 'B', cohortTag: 'ablation', sex: 'male', ageYears: 71 }),
    ]);
  });

  it('count blank lines apart and number rows as a spreadsheet does', () => {
    const decoded = decode(['', 'a,1,0,1,f,60', ',,,,,', 'a,x!,0,1,f,60', '']);
    expect([decoded.rowsRead, decoded.blankRows]).toEqual([2, 2]);
    expect(refusalsOf(decoded)).toEqual([[5, 'time-not-a-number', 'a? (shape only)']]);
  });

  it.each([
    ['a,1,0,1,f', 'cells-differ', null],
    ['a,1,0,1,f,60,', 'cells-differ', null],
    [' ,1,0,1,f,60', 'patient-blank', 'blank'],
    [`${'p'.repeat(101)},1,0,1,f,60`, 'patient-too-long', null],
    ['a,,0,1,f,60', 'time-not-a-number', 'blank'],
    ['a,"1,5",0,1,f,60', 'time-not-a-number', '1,5'],
    ['a,1e400,0,1,f,60', 'time-not-a-number', '9a999 (shape only)'],
    ['a,0x10,0,1,f,60', 'time-not-a-number', '9a99 (shape only)'],
    ['a,NaN,0,1,f,60', 'time-not-a-number', 'NaN'],
    ['a,-0.5,0,1,f,60', 'time-before-day-zero', '-0.5'],
    ['a,999999,0,1,f,60', 'time-too-late', '999999 (shape only)'],
    ['a,300,0,1,f,60', 'day-in-the-future', '300'],
    ['a,1,2,1,f,60', 'rhythm-unknown', '2'],
    ['a,1,,1,f,60', 'rhythm-unknown', 'blank'],
    ['a,1,constructor,1,f,60', 'rhythm-unknown', 'aaaaaaaaaaa (shape only)'],
    ['a,1,__proto__,1,f,60', 'rhythm-unknown', '??aaaaa?? (shape only)'],
    ['a,1,0,3,f,60', 'group-unknown', '3'],
    ['a,1,0,1,x,60', 'sex-unknown', 'a (shape only)'],
    ['a,1,0,1,f,121', 'age-impossible', '121'],
    ['a,1,0,1,f,old', 'age-impossible', 'aaa (shape only)'],
  ])('are refused one by one: %s', (row, code, value) => {
    const decoded = decode([row, 'b,1,0,1,f,60']);
    const shown = value === '999999 (shape only)' ? '999999 (shape only)' : value;
    expect(refusalsOf(decoded)[0]?.slice(0, 2)).toEqual([2, code]);
    if (code !== 'patient-blank') expect(refusalsOf(decoded)[0]?.[2]).toBe(shown);
    expect(decoded.patients.map(({ reference }) => reference)).toEqual(['B']);
    expect(decoded.refusals).toHaveLength(1);
    const [refusal] = decoded.refusals;
    expect(refusal?.reason).toMatch(/\.$/);
    expect(refusal?.cure).toMatch(/\.$/);
  });

  it('name the column as the mapping does', () => {
    const decoded = decode(['a,1,9,1,f,60', 'a,1', ',1,0,1,f,60']);
    expect(decoded.refusals.map(({ column }) => column)).toEqual(['af', null, 'id']);
  });

  it('with both rhythms of a patient at one time are all refused; other times stay', () => {
    const decoded = decode([
      'a,1.5,0,1,f,60',
      'a,1.50,1,1,f,60',
      'a,1.5,0,1,f,60',
      'a,1.51,1,1,f,60',
      'b,1.5,1,1,f,60',
    ]);
    expect(refusalsOf(decoded)).toEqual([2, 3, 4].map((row) => [row, 'two-rhythms-at-once', null]));
    expect(decoded.patients.map(({ readings }) => readings.length)).toEqual([1, 1]);
    expect(decoded.repeatedReadings).toBe(0);
  });

  it('on one day at different times are both kept, whatever they found', () => {
    const decoded = decode(['a,1.000,0,1,f,60', 'a,1.001,1,1,f,60']);
    expect(decoded.patients[0]?.readings.map(({ day }) => day)).toEqual([30, 30]);
  });

  it('that repeat each other are kept and counted', () => {
    const decoded = decode(['a,1.5,0,1,f,60', 'a,1.5,0,1,f,60', 'a,1.5,0,1,f,60']);
    expect([decoded.patients[0]?.readings.length, decoded.repeatedReadings]).toEqual([3, 2]);
  });

  it.each([
    ['group', 'a,2,0,2,f,60'],
    ['sex', 'a,2,0,1,m,60'],
    ['age', 'a,2,0,1,f,61'],
  ])('that contradict each other about the %s refuse the patient whole', (word, other) => {
    const decoded = decode(['a,1,0,1,f,60', 'b,1,0,1,f,60', other, 'a,3,7,1,f,60']);
    expect(refusalsOf(decoded)).toEqual([
      [2, 'patient-contradicts-itself', null],
      [4, 'patient-contradicts-itself', null],
      [5, 'rhythm-unknown', '7'],
    ]);
    expect(decoded.refusals[0]?.reason).toBe(
      `The ${word} of this patient differs between row 2 and row 4: the patient is left out whole.`,
    );
    expect([decoded.patients.length, decoded.patientsLeftOut]).toEqual([1, 1]);
  });

  it('may leave group, sex and age blank', () => {
    const decoded = decode(['a,1,0,,,', 'a,2,0,1,,60', 'b,1,0,,f,70']);
    expect(decoded.patients.map(({ cohortTag, sex, ageYears }) => [cohortTag, sex, ageYears])).toEqual([
      ['control', 'unknown', 60],
      [null, 'female', 70],
    ]);
  });

  it('of one patient are joined whatever the letter case, blanks and width of the number', () => {
    const decoded = decode(['ab 1,1,0,1,f,60', 'AB1,2,0,1,f,60', '\uFF21\uFF22\uFF11,3,0,1,f,60']);
    expect(decoded.patients.map(({ readings }) => readings.length)).toEqual([3]);
  });
});

describe('a birth year', () => {
  it('is the likelier one of an age on day zero', () => {
    const bornAt = (dayZero: string) => decode(['a,1,0,1,f,60'], { dayZero }).patients[0]?.birthYear;
    expect([bornAt('2024-01-15'), bornAt('2024-06-30'), bornAt('2024-07-01')]).toEqual([1963, 1963, 1964]);
  });

  it('comes from the file, or from the mapping, or refuses the patient: it is never made up', () => {
    const columns = { patient: 'id', time: 'months', rhythm: 'af', birthYear: 'age' };
    const parts = { columns, groups: undefined, sexes: undefined };
    const rows = ['a,1,0,1,f,1950', 'b,1,0,1,f,', 'c,1,0,1,f,1889', 'd,1,0,1,f,2025'];
    const strict = decode(rows, parts);
    expect(strict.patients.map(({ birthYear, birthYearFrom }) => [birthYear, birthYearFrom])).toEqual([
      [1950, 'file'],
    ]);
    expect(strict.refusals.map(({ code }) => code)).toEqual([
      'birth-year-missing',
      'birth-year-impossible',
      'birth-year-impossible',
    ]);
    const filled = decode(rows, { ...parts, birthYearWhenMissing: 1955 });
    expect(filled.patients.map(({ birthYearFrom }) => birthYearFrom)).toEqual(['file', 'mapping']);
  });

  it('before those that the registry stores refuses the patient', () => {
    const decoded = decode(['a,1,0,1,f,120'], { dayZero: '2005-01-01' });
    expect(decoded.refusals.map(({ code }) => code)).toEqual(['birth-year-impossible']);
  });
});

describe('times', () => {
  const rule = (unit: 'days' | 'months', rounding: 'nearest' | 'down') => ({
    time: { unit, rounding, daysPerMonth: 30.4375 },
  });

  it.each([
    [0, 'months', 'nearest', 0],
    [-0, 'days', 'nearest', 0],
    [0.11363, 'months', 'nearest', 3],
    [1, 'months', 'nearest', 30],
    [1, 'months', 'down', 30],
    [12, 'months', 'nearest', 365],
    [12, 'months', 'down', 365],
    [2.5, 'days', 'nearest', 3],
    [3.5, 'days', 'nearest', 4],
    [2.5, 'days', 'down', 2],
    [0.49999999999999994, 'days', 'nearest', 0],
  ] as const)('%d %s, %s, is day %d', (time, unit, rounding, day) => {
    expect(dayOfTime(time, rule(unit, rounding))).toBe(day);
  });

  it('are read with a decimal comma when the mapping says so', () => {
    const mapping = mappingOf({ delimiter: ';', decimalMark: ',' });
    const csv = `${HEADS.replaceAll(',', ';')}\na;1,5;0;1;f;60\na;1.5;0;1;f;60\na;1,0,0;0;1;f;60\n`;
    const decoded = decodeRhythmCsv(bytesOf(csv), mapping, today);
    if (decoded.kind === 'refused') throw new Error(decoded.finding.reason);
    expect(decoded.patients[0]?.readings).toEqual([{ row: 2, day: 46, rhythm: 'sinus' }]);
    expect(decoded.refusals.map(({ code }) => code)).toEqual(['time-not-a-number', 'time-not-a-number']);
  });

  it('may lie on today but not after it', () => {
    const days = { time: { unit: 'days', rounding: 'nearest' }, dayZero: '2026-01-01' };
    const decoded = decode(['a,30,0,1,f,60', 'a,31,0,1,f,60'], days);
    expect(decoded.refusals.map(({ row, code }) => [row, code])).toEqual([[3, 'day-in-the-future']]);
  });
});
