import { z } from 'zod';
import { calendarDay, isCalendarDay } from '../registry/calendar-day';
import { type Finding, findingsOfZod, refusal } from '../registry/findings';
import { codesOf, RHYTHMS, SEXES } from '../registry/vocabulary';

/** How a CSV of rhythm readings is read: which column is what, what its codes mean, and when day 0 was. */

export const MAX_MAPPING_CHARACTERS = 20_000;

const MAX_CODES = 50;
const TAG = /^[A-Za-z0-9][A-Za-z0-9 -]{0,39}$/;

const columnName = z
  .string({ error: 'Name the column as the first line of the file writes it, in quotes.' })
  .trim()
  .min(1, 'Name the column as the first line of the file writes it.')
  .max(100, 'The name of a column may have up to 100 characters.');

/** A code as the file writes it; '' is a cell left blank. */
const fileCode = z.string().trim().max(40, 'A code may have up to 40 characters.');

function codeTable<Meaning extends z.core.SomeType>(meaning: Meaning) {
  return z
    .record(fileCode, meaning, { error: 'Give each code of the file its meaning, as in {"0": "..."}.' })
    .refine((table) => Object.keys(table).length > 0, 'Give at least one code.')
    .refine((table) => Object.keys(table).length <= MAX_CODES, `Give up to ${MAX_CODES} codes.`);
}

const birthYear = z
  .int({ error: 'Give a birth year as a whole number, as in 1950.' })
  .min(1890, 'Give a birth year from 1890 on.')
  .max(2100, 'Give a birth year up to 2100.');

const columns = z.strictObject(
  {
    patient: columnName,
    time: columnName,
    rhythm: columnName,
    group: columnName.optional(),
    sex: columnName.optional(),
    /** Age in completed years at day 0. */
    age: columnName.optional(),
    birthYear: columnName.optional(),
  },
  { error: 'Name the columns, as in {"patient": "id", "time": "months", "rhythm": "af"}.' },
);

const time = z.strictObject(
  {
    unit: z.enum(['days', 'months'], { error: 'Choose "days" or "months".' }),
    daysPerMonth: z
      .number({ error: 'Give the days of a month, as in 30.4375.' })
      .min(28, 'A month has 28 days or more.')
      .max(31, 'A month has 31 days or fewer.')
      .default(30.4375),
    rounding: z.enum(['nearest', 'down'], { error: 'Choose "nearest" (a half goes up) or "down".' }),
  },
  { error: 'State the time, as in {"unit": "months", "rounding": "nearest"}.' },
);

const reading = z.strictObject(
  {
    kind: z.enum(['rhythm-strip', 'ecg'], { error: 'Choose "rhythm-strip" or "ecg".' }),
    counts: z.literal('whole-tracing', {
      error: 'Only "whole-tracing" can be read: the rhythm fills the tracing from end to end.',
    }),
  },
  { error: 'State what a reading is, as in {"kind": "rhythm-strip", "counts": "whole-tracing"}.' },
);

const rhythmMappingSchema = z
  .strictObject({
    source: z
      .string({ error: 'Name the source of the file, as in "Registry of the north ward".' })
      .trim()
      .min(1, 'Name the source of the file.')
      .max(120, 'The name of the source may have up to 120 characters.'),
    columns,
    delimiter: z.enum([',', ';', '\t'], { error: 'Choose ",", ";" or a tab.' }).default(','),
    decimalMark: z.enum(['.', ','], { error: 'Choose "." or ",".' }).default('.'),
    time,
    dayZero: z
      .string({ error: 'Give the day of the procedures as YYYY-MM-DD.' })
      .max(10, 'Give the day of the procedures as YYYY-MM-DD.')
      .refine(isCalendarDay, 'Give an existing day as YYYY-MM-DD.')
      .transform(calendarDay),
    rhythms: codeTable(
      z.enum(codesOf(RHYTHMS), {
        error: `Choose one of ${codesOf(RHYTHMS)
          .map((code) => `"${code}"`)
          .join(', ')}.`,
      }),
    ),
    reading,
    groups: codeTable(
      z
        .string({ error: 'Give the group a name in quotes.' })
        .trim()
        .regex(TAG, 'A group is named by up to 40 letters, figures, blanks or hyphens.'),
    ).optional(),
    sexes: codeTable(z.enum(codesOf(SEXES), { error: 'Choose "female", "male" or "unknown".' })).optional(),
    /** Stands where the file gives neither birth year nor age; the report counts for whom. */
    birthYearWhenMissing: birthYear.optional(),
  })
  .superRefine((mapping, context) => {
    for (const [field, message] of contradictionsOf(mapping)) {
      context.addIssue({ code: 'custom', path: field.split('.'), message });
    }
  });

export type RhythmMapping = z.output<typeof rhythmMappingSchema>;
/** What a column of the file is read as. */
export type ColumnRole = keyof RhythmMapping['columns'];

interface Agreeing {
  readonly columns: Readonly<Partial<Record<string, string | undefined>>>;
  readonly dayZero: string;
  readonly delimiter: string;
  readonly decimalMark: string;
  readonly groups?: object | undefined;
  readonly sexes?: object | undefined;
  readonly birthYearWhenMissing?: number | undefined;
}

function contradictionsOf(mapping: Agreeing): [string, string][] {
  const found: [string, string][] = [];
  const taken = new Map<string, string>();
  for (const [role, name] of Object.entries(mapping.columns)) {
    if (name === undefined) continue;
    const other = taken.get(name);
    if (other) found.push([`columns.${role}`, `This column is already read as ${other}. Name another.`]);
    taken.set(name, role);
  }
  const pairs = [
    ['group', 'groups', mapping.groups],
    ['sex', 'sexes', mapping.sexes],
  ] as const;
  for (const [role, field, table] of pairs) {
    const named = mapping.columns[role] !== undefined;
    if (named && !table) found.push([field, `Say what the codes of the column for ${role} mean.`]);
    if (!named && table) found.push([field, `No column is named for ${role}. Name it, or leave this out.`]);
  }
  const { age, birthYear: born } = mapping.columns;
  if (age !== undefined && born !== undefined) {
    found.push(['columns.age', 'Name the column of the birth year or that of the age, not both.']);
  }
  if (age === undefined && born === undefined && mapping.birthYearWhenMissing === undefined) {
    found.push([
      'birthYearWhenMissing',
      'A patient needs a birth year: name the column of the age or of the birth year, or give one year here for all.',
    ]);
  }
  if (
    mapping.birthYearWhenMissing !== undefined &&
    mapping.birthYearWhenMissing > Number(mapping.dayZero.slice(0, 4))
  ) {
    found.push(['birthYearWhenMissing', 'This birth year lies after day zero. Mend one of the two.']);
  }
  if (mapping.delimiter === ',' && mapping.decimalMark === ',') {
    found.push(['decimalMark', 'A comma cannot part both columns and decimals. Change one of the two.']);
  }
  return found;
}

/** A complete mapping to begin with: invented columns, every part that is needed. */
export const EXAMPLE_MAPPING = `{
  "source": "Rhythm readings of the follow-up clinic",
  "columns": {
    "patient": "id", "time": "months", "rhythm": "af",
    "group": "arm", "sex": "sex", "age": "age"
  },
  "time": { "unit": "months", "daysPerMonth": 30.4375, "rounding": "nearest" },
  "dayZero": "2024-01-15",
  "rhythms": { "0": "sinus", "1": "af" },
  "reading": { "kind": "rhythm-strip", "counts": "whole-tracing" },
  "groups": { "1": "control", "2": "ablation" },
  "sexes": { "f": "female", "m": "male" }
}
`;

export type MappingResult =
  | { readonly kind: 'mapping'; readonly mapping: RhythmMapping }
  | { readonly kind: 'refused'; readonly findings: readonly Finding[] };

/** Reads the text of a mapping file (JSON). Every fault is a finding by its path; nothing of the text is quoted. */
export function parseRhythmMapping(text: string): MappingResult {
  if (text.length > MAX_MAPPING_CHARACTERS) {
    return refused(`The mapping is longer than ${MAX_MAPPING_CHARACTERS} characters. Is it the right file?`);
  }
  let value: unknown;
  try {
    value = JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch {
    // The parser's own words quote the text, which may be the data file given in the wrong place.
    return refused('The mapping is not JSON. Check quotes, commas and brackets, or begin with the example.');
  }
  const parsed = rhythmMappingSchema.safeParse(value);
  if (parsed.success) return { kind: 'mapping', mapping: parsed.data };
  return { kind: 'refused', findings: parsed.error.issues.flatMap(plainFinding) };
}

const refused = (message: string): MappingResult => ({ kind: 'refused', findings: [refusal('', message)] });

function plainFinding(issue: z.core.$ZodIssue): Finding[] {
  const field = issue.path.map(String).join('.');
  if (issue.code === 'unrecognized_keys') {
    const known = issue.keys.map((key) => `"${key.slice(0, 40)}"`).join(', ');
    return [refusal(field, `The mapping does not know ${known}. Check the spelling, or leave it out.`)];
  }
  if (issue.code === 'invalid_type' && field === '') {
    return [refusal('', 'The mapping must be one JSON object: begin with the example.')];
  }
  return findingsOfZod(new z.ZodError([issue]));
}
