import { BASELINE_VARIABLES, PROCEDURE_VARIABLES, type Variable } from '@/lib/registry/case-variables';
import { CODE_LISTS } from '@/lib/registry/code-lists';
import { SCORES } from '@/lib/registry/scores/list';

/** Units (UCUM) by the end of a field's name: numbers carry their unit there. */
const UNITS: readonly [ending: string, unit: string][] = [
  ['MlMin173m2', 'mL/min/{1.73_m2}'],
  ['MlM2', 'mL/m2'],
  ['Cm2M2', 'cm2/m2'],
  ['KgM2', 'kg/m2'],
  ['GyCm2', 'Gy.cm2'],
  ['Mgy', 'mGy'],
  ['Mm', 'mm'],
  ['Uv', 'uV'],
  ['Pct', '%'],
  ['Seconds', 's'],
  ['ActS', 's'],
  ['Minutes', 'min'],
  ['Days', 'd'],
  ['Years', 'a'],
  ['Units', '[iU]'],
];

/** What a field means and where its definition comes from, by 'table.field'. */
const VARIABLES: Readonly<Record<string, Variable>> = Object.fromEntries([
  ...Object.entries(BASELINE_VARIABLES).map(([name, entry]) => [`baselines.${name}`, entry]),
  ...Object.entries(PROCEDURE_VARIABLES).map(([name, entry]) => [`procedures.${name}`, entry]),
]);

const TYPES: Readonly<Record<string, string>> = {
  String: 'text',
  Int: 'whole number',
  BigInt: 'whole number',
  Boolean: 'yes or no',
  Decimal: 'decimal number',
  Bytes: 'bytes',
  Json: 'JSON',
};

/**
 * The data dictionary as Markdown: every stored field with type, unit and codes, read from the schema's text and the
 * vocabulary, so that it cannot tell of a field that is not there.
 */
export function dataDictionary(schema: string): string {
  const models = [...schema.matchAll(/^model (\w+) \{\n([\s\S]*?)^\}/gm)].map(([, name = '', body = '']) => ({
    name,
    table: /@@map\("(\w+)"\)/.exec(body)?.[1] ?? name,
    body,
  }));
  const names = new Set(models.map((model) => model.name));
  const parts = models.map(({ table, body }) => `## ${table}\n\n${tableOf(table, body, names)}`);
  return [
    '# Data dictionary',
    '',
    'Made by `npm run dictionary` from prisma/schema.prisma and the vocabulary. Every row carries its lab; ids are random.',
    'No names, no dates of birth and no hospital numbers are stored.',
    '',
    parts.join('\n\n'),
    '',
    `## What the fields of a case mean\n\n${meaningsOf()}`,
    '',
    `## Scores\n\n${scoresOf()}`,
    '',
    `## Code lists\n\n${codeListsOf()}`,
    '',
  ].join('\n');
}

function tableOf(table: string, body: string, names: ReadonlySet<string>): string {
  const lines = body.split('\n').flatMap((line) => {
    const match = /^ {2}(\w+)\s+(\w+)(\[\]|\?)?(.*)$/.exec(line);
    if (!match) return [];
    const [, field = '', type = '', mark = '', rest = ''] = match;
    if (names.has(type)) return [];
    const column = /@map\("(\w+)"\)/.exec(rest)?.[1] ?? field;
    const codes = CODE_LISTS[`${table}.${field}`] ? `see ${table}.${field}` : '';
    return [
      `| ${column} | ${typeOf(type, mark, rest)} | ${unitOf(field)} | ${mark === '?' ? 'yes' : 'no'} | ${codes} |`,
    ];
  });
  return ['| column | type | unit (UCUM) | may be empty | codes |', '|---|---|---|---|---|', ...lines].join(
    '\n',
  );
}

function typeOf(type: string, mark: string, rest: string): string {
  const base =
    type === 'DateTime' ? (rest.includes('@db.Date') ? 'day' : 'instant, UTC') : (TYPES[type] ?? type);
  const precise = rest.includes('@db.Uuid') ? 'UUID' : base;
  return mark === '[]' ? `list of ${precise}` : precise;
}

function unitOf(field: string): string {
  return UNITS.find(([ending]) => field.endsWith(ending))?.[1] ?? '';
}

function codeListsOf(): string {
  return Object.entries(CODE_LISTS)
    .map(([field, list]) => {
      const rows = list.map((term) => `| ${term.code} | ${term.label} | ${term.definition} |`);
      return [`### ${field}`, '', '| code | label | definition |', '|---|---|---|', ...rows].join('\n');
    })
    .join('\n\n');
}

/** LOINC and ICD-10 codes are from memory and are to be confirmed before they are exported as such. */
function meaningsOf(): string {
  const rows = Object.entries(VARIABLES).map(([path, { label, definition, source, loinc, icd10 }]) =>
    [path, label, definition, source, loinc ?? '', icd10 ?? ''].join(' | '),
  );
  return [
    'LOINC and ICD-10 codes are from memory: confirm them before use.',
    '',
    '| field | label | definition | source | LOINC | ICD-10 |',
    '|---|---|---|---|---|---|',
    ...rows.map((row) => `| ${row} |`),
  ].join('\n');
}

function scoresOf(): string {
  const rows = SCORES.map(({ label, predicts, source, fromMemory, knownFrom, items }) =>
    [
      label,
      predicts,
      items.map((item) => `${item.label} (up to ${item.most})`).join('; '),
      source,
      fromMemory,
      knownFrom,
    ].join(' | '),
  );
  return [
    '| score | predicts | items | source | from memory | known from |',
    '|---|---|---|---|---|---|',
    ...rows.map((row) => `| ${row} |`),
  ].join('\n');
}
