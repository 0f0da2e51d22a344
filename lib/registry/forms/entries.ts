import { z } from 'zod';
import { type CalendarDay, isCalendarDay } from '../calendar-day';
import { readMillivolt } from '../millivolt';
import type { Term } from '../vocabulary';

/**
 * Readers for single fields. A field comes as typed text ('' or blanks = not given), as a number, or as null; what leaves
 * is a value or null, never a guess. Each reader answers with one message in plain words, and what was typed is repeated
 * in it only when it is a number: text in the wrong field may be an identifier.
 */
export type Typed = string | number | null;
export type Ticked = boolean | string | null;

type Reading<Value> = { readonly value: Value } | { readonly problem: string };

export interface NumberField {
  readonly label: string;
  /** UCUM unit as printed, '' for a count. */
  readonly unit: string;
  /** Outside these the entry is refused. */
  readonly min: number;
  readonly max: number;
  /** Outside these the entry is questioned. */
  readonly usualMin?: number;
  readonly usualMax?: number;
  readonly decimals: 0 | 1 | 2;
}

const LONGEST_TYPED = 64;

function textOf(typed: unknown): Reading<string> {
  if (typed === undefined || typed === null) return { value: '' };
  if (typeof typed === 'number') return { value: Number.isFinite(typed) ? String(typed) : 'not finite' };
  if (typeof typed !== 'string') return { problem: 'is not text. Type it again.' };
  const text = typed.trim();
  return text.length > LONGEST_TYPED
    ? { problem: `is longer than ${LONGEST_TYPED} characters. Shorten it.` }
    : { value: text };
}

const withUnit = (amount: number, unit: string) => (unit === '' ? `${amount}` : `${amount} ${unit}`);

/** Reads a number that a person typed; null when nothing was typed. */
export function readNumber(typed: unknown, field: NumberField): Reading<number | null> {
  const reading = textOf(typed);
  if ('problem' in reading) return reading;
  const text = reading.value;
  if (text === '') return { value: null };
  const example = field.decimals === 0 ? 'a whole number in figures' : 'a number in figures, such as 12.5';
  const comma = /^([+-]?\d+),(\d+)$/.exec(text);
  if (comma) {
    const mended = `${comma[1]}.${comma[2]}`;
    return field.decimals === 0
      ? { problem: `“${text}” is not a whole number. Write ${example}.` }
      : { problem: `“${text}” has a comma. Write a point instead: ${mended}.` };
  }
  if (!/^[+-]?\d+(\.\d+)?$/.test(text)) return { problem: `is not a number. Write ${example}.` };
  const value = Number(text);
  const scaled = value * 10 ** field.decimals;
  if (Math.abs(scaled - Math.round(scaled)) > 1e-6) {
    return field.decimals === 0
      ? { problem: `“${text}” is not a whole number. Write ${example}.` }
      : {
          problem: `“${text}” is finer than is kept. Write at most ${field.decimals} decimal${field.decimals === 1 ? '' : 's'}.`,
        };
  }
  if (value < field.min || value > field.max) {
    return {
      problem: `${withUnit(value, field.unit)} is not possible. It must lie from ${field.min} to ${withUnit(field.max, field.unit)}; check the value and its unit.`,
    };
  }
  return { value };
}

/** Reads a day written year first ('2024-05-03'; '2024-5-3' and '2024/05/03' are the same day); null when nothing was typed. */
export function readDay(typed: unknown): Reading<CalendarDay | null> {
  const reading = textOf(typed);
  if ('problem' in reading) return reading;
  if (reading.value === '') return { value: null };
  const match = /^(\d{4})([-/.])(\d{1,2})\2(\d{1,2})$/.exec(reading.value);
  if (!match) return { problem: 'is not written as a day. Write year-month-day, such as 2024-05-31.' };
  const day = `${match[1]}-${match[3]?.padStart(2, '0')}-${match[4]?.padStart(2, '0')}`;
  return isCalendarDay(day)
    ? { value: day }
    : { problem: `${day} is not a day of the calendar (or lies outside 1800 to 2199). Check month and day.` };
}

/** Reads a code of a list; null when nothing was chosen. `refusedCodes` explains words that people expect but that are wrong here. */
export function readChoice<Code extends string>(
  typed: unknown,
  codes: readonly Code[],
  refusedCodes: Readonly<Record<string, string>> = {},
): Reading<Code | null> {
  const reading = textOf(typed);
  if ('problem' in reading) return reading;
  if (reading.value === '') return { value: null };
  const code = codes.find((candidate) => candidate === reading.value);
  if (code !== undefined) return { value: code };
  const reason = Object.hasOwn(refusedCodes, reading.value.toLowerCase())
    ? refusedCodes[reading.value.toLowerCase()]
    : undefined;
  return { problem: reason ?? 'is none of the choices. Choose one of the list.' };
}

function readAmplitude(typed: unknown): Reading<number | null> {
  const reading = textOf(typed);
  if ('problem' in reading || reading.value === '') return 'problem' in reading ? reading : { value: null };
  const amplitude = readMillivolt(reading.value);
  return 'problem' in amplitude ? amplitude : { value: amplitude.uv };
}

function readYesNo(typed: unknown): Reading<boolean | null> {
  if (typeof typed === 'boolean') return { value: typed };
  const choice = readChoice(typed, ['yes', 'no']);
  if ('problem' in choice) return choice;
  return { value: choice.value === null ? null : choice.value === 'yes' };
}

/** "LVEF is not a number ..." or "LVEF: “12,5” is ...". */
function said(label: string, problem: string): string {
  return /^(is|has) /.test(problem) ? `${label} ${problem}` : `${label}: ${problem}`;
}

/**
 * A field that may stay empty: the value or null. When it cannot be read, the checks that compare fields still run, and see
 * something that is neither null nor a value: they look before they compare, so that nothing is called missing that is there.
 */
function optionalEntry<Input, Value>(label: string, read: (typed: unknown) => Reading<Value | null>) {
  return z
    .custom<Input>()
    .optional()
    .transform((typed, context): Value | null => {
      const reading = read(typed);
      if ('value' in reading) return reading.value;
      context.addIssue({ code: 'custom', message: said(label, reading.problem), continue: true });
      return z.NEVER;
    });
}

/** A field that must be given: the value, or a message that says what to give. */
function requiredEntry<Input, Value>(
  label: string,
  ask: string,
  read: (typed: unknown) => Reading<Value | null>,
) {
  return z
    .custom<Input>()
    .optional()
    .transform((typed, context): Value => {
      const reading = read(typed);
      if ('value' in reading && reading.value !== null) return reading.value;
      const problem = 'problem' in reading ? reading.problem : `is missing. ${ask}`;
      context.addIssue({ code: 'custom', message: said(label, problem), continue: true });
      return z.NEVER;
    });
}

const DAY_ASKED = 'Write year-month-day, such as 2024-05-31.';
const codesIn = <const List extends readonly Term[]>(list: List): readonly List[number]['code'][] =>
  list.map((term) => term.code);

export const numberEntry = (field: NumberField) =>
  optionalEntry<Typed, number>(field.label, (typed) => readNumber(typed, field));
export const requiredNumberEntry = (field: NumberField) =>
  requiredEntry<Typed, number>(field.label, 'Write it in figures.', (typed) => readNumber(typed, field));
export const dayEntry = (label: string) => optionalEntry<Typed, CalendarDay>(label, readDay);
export const requiredDayEntry = (label: string) =>
  requiredEntry<Typed, CalendarDay>(label, DAY_ASKED, readDay);

export function choiceEntry<const List extends readonly Term[]>(
  label: string,
  list: List,
  refusedCodes?: Readonly<Record<string, string>>,
) {
  return optionalEntry<Typed, List[number]['code']>(label, (typed) =>
    readChoice(typed, codesIn(list), refusedCodes),
  );
}

export function requiredChoiceEntry<const List extends readonly Term[]>(label: string, list: List) {
  return requiredEntry<Typed, List[number]['code']>(label, 'Choose one of the list.', (typed) =>
    readChoice(typed, codesIn(list)),
  );
}

/** Any number of a list, each once, in the order of the list; an absent list is empty. */
export function choiceListEntry<const List extends readonly Term[]>(label: string, list: List) {
  const message = `${label}: something is none of the choices. Choose from the list.`;
  return z
    .array(z.enum(codesIn(list), { error: message }), { error: message })
    .max(list.length, { error: message })
    .default([])
    .transform((chosen) => codesIn(list).filter((code) => chosen.includes(code)));
}

/** An amplitude typed in millivolt: whole microvolt, or null. */
export const amplitudeEntry = (label: string) => optionalEntry<Typed, number>(label, readAmplitude);

/** Yes, no, or not recorded: 'yes', 'no', '', true, false or null. */
export const yesNoEntry = (label: string) => optionalEntry<Ticked, boolean>(label, readYesNo);

/** A box that is ticked or not: an absent or empty value is not ticked. */
export const tickEntry = (label: string) => yesNoEntry(label).transform((ticked): boolean => ticked === true);

/** Text of a fixed shape (a code, an id): `pattern` sees it trimmed. The message never repeats what was typed. */
export const codeEntry = (label: string, pattern: RegExp, mend: string) =>
  optionalEntry<Typed, string>(label, (typed) => readCode(typed, pattern, mend));
export const requiredCodeEntry = (label: string, pattern: RegExp, mend: string) =>
  requiredEntry<Typed, string>(label, mend, (typed) => readCode(typed, pattern, mend));

function readCode(typed: unknown, pattern: RegExp, mend: string): Reading<string | null> {
  const reading = textOf(typed);
  if ('problem' in reading) return reading;
  if (reading.value === '') return { value: null };
  return pattern.test(reading.value) ? reading : { problem: `has not the right form. ${mend}` };
}
