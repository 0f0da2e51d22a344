import { readFileSync } from 'node:fs';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openTestDatabase, type TestDatabase } from '../support/database';

/** The schema file and the migrated database must say the same; the engine that would compare them may be out of reach. */
let database: TestDatabase;
let owner: pg.Client;

beforeAll(async () => {
  database = await openTestDatabase();
  owner = new pg.Client({ connectionString: database.ownerUrl });
  await owner.connect();
});
afterAll(async () => {
  await owner.end();
  await database.close();
});

const TYPES: Record<string, string> = {
  String: 'text',
  Int: 'int4',
  Boolean: 'bool',
  Bytes: 'bytea',
  Json: 'jsonb',
  BigInt: 'int8',
};
const NATIVE: Record<string, string> = {
  Uuid: 'uuid',
  Date: 'date',
  Timestamptz: 'timestamptz',
  Decimal: 'numeric',
};

interface Model {
  table: string;
  columns: string[];
  keys: string[];
  indexes: string[];
  foreignKeys: string[];
}

function readModels(): Model[] {
  const text = readFileSync('prisma/schema.prisma', 'utf8');
  const blocks = [...text.matchAll(/^model (\w+) \{\n([\s\S]*?)^\}/gm)].map(([, name, body]) => ({
    name,
    body,
  }));
  const names = new Set(blocks.map(({ name }) => name));
  const tables = new Map(blocks.map(({ name, body }) => [name, /@@map\("(\w+)"\)/.exec(body)?.[1] ?? name]));
  const columnsOf = new Map(
    blocks.map(({ name, body }) => [
      name,
      new Map(fieldsOf(body).map((field) => [field.name, field.column])),
    ]),
  );
  const listed = (model: string, list: string) =>
    list.split(',').map((field) => columnsOf.get(model)?.get(field.trim()) ?? `?${field.trim()}`);
  return blocks.map(({ name, body }) => {
    const scalars = fieldsOf(body).filter((field) => !names.has(field.type));
    const whole = (kind: string) =>
      [...body.matchAll(new RegExp(`@@${kind}\\(\\[([^\\]]+)\\]`, 'g'))].map(([, list]) =>
        listed(name, list).join(),
      );
    const inline = (mark: string) =>
      scalars.filter((field) => field.rest.includes(mark)).map((field) => field.column);
    const relations = fieldsOf(body).flatMap((field) => {
      const match = /@relation\(fields: \[([^\]]+)\], references: \[([^\]]+)\]/.exec(field.rest);
      return match
        ? [
            `${listed(name, match[1]).join()}->${tables.get(field.type)}(${listed(field.type, match[2]).join()})`,
          ]
        : [];
    });
    return {
      table: tables.get(name) ?? name,
      columns: scalars
        .map((field) => `${field.column} ${field.sql}${field.isOptional ? '' : ' NOT NULL'}`)
        .sort(),
      keys: [...whole('id'), ...inline('@id')],
      indexes: [
        ...whole('unique').map((c) => `unique ${c}`),
        ...inline('@unique').map((c) => `unique ${c}`),
        ...whole('index'),
      ].sort(),
      foreignKeys: relations.sort(),
    };
  });
}

function fieldsOf(body: string) {
  return body.split('\n').flatMap((line) => {
    const match = /^ {2}(\w+)\s+(\w+)(\[\]|\?)?(.*)$/.exec(line);
    if (!match) return [];
    const [, name, type, mark = '', rest] = match;
    const native = /@db\.(\w+)/.exec(rest)?.[1];
    const base = native === undefined ? (TYPES[type] ?? type) : (NATIVE[native] ?? native);
    const sql = mark === '[]' ? `_${base}` : base;
    return [
      { name, type, rest, sql, isOptional: mark !== '', column: /@map\("(\w+)"\)/.exec(rest)?.[1] ?? name },
    ];
  });
}

async function readCatalogue(table: string): Promise<Model> {
  const texts = async (sql: string) => (await owner.query(sql, [table])).rows.map((row) => String(row.text));
  const columns =
    await texts(`SELECT column_name || ' ' || udt_name || CASE WHEN is_nullable = 'NO' THEN ' NOT NULL' ELSE '' END AS text
    FROM information_schema.columns WHERE table_schema = 'public' AND table_name = $1`);
  const index = (
    wanted: string,
  ) => `SELECT CASE WHEN x.indisunique AND NOT x.indisprimary THEN 'unique ' ELSE '' END ||
      (SELECT string_agg(a.attname, ',' ORDER BY k.n) FROM unnest(x.indkey) WITH ORDINALITY AS k(col, n)
        JOIN pg_attribute a ON a.attrelid = x.indrelid AND a.attnum = k.col) AS text
    FROM pg_index x WHERE x.indrelid = $1::regclass AND ${wanted}`;
  const foreignKeys = await texts(`SELECT
      (SELECT string_agg(a.attname, ',' ORDER BY k.n) FROM unnest(c.conkey) WITH ORDINALITY AS k(col, n)
        JOIN pg_attribute a ON a.attrelid = c.conrelid AND a.attnum = k.col) || '->' || c.confrelid::regclass || '(' ||
      (SELECT string_agg(a.attname, ',' ORDER BY k.n) FROM unnest(c.confkey) WITH ORDINALITY AS k(col, n)
        JOIN pg_attribute a ON a.attrelid = c.confrelid AND a.attnum = k.col) || ')' AS text
    FROM pg_constraint c WHERE c.contype = 'f' AND c.conrelid = $1::regclass`);
  return {
    table,
    columns: columns.sort(),
    keys: await texts(index('x.indisprimary')),
    indexes: (await texts(index('NOT x.indisprimary'))).sort(),
    foreignKeys: foreignKeys.sort(),
  };
}

/** Written by hand in SQL only: the schema language has no words for them. */
const SQL_ONLY = {
  indexes: ['unique lab_id,id,patient_id'],
  foreignKeys: [
    'lab_id->labs(id)',
    'lab_id,procedure_id,patient_id->procedures(lab_id,id,patient_id)',
    'lab_id,visit_id,patient_id->follow_up_visits(lab_id,id,patient_id)',
  ],
};

describe('prisma/schema.prisma and the migrated database', () => {
  it.each(readModels().map((model) => [model.table, model] as const))('agree on %s', async (table, model) => {
    const found = await readCatalogue(table);
    expect(found.columns).toEqual(model.columns.map((column) => column.replace(/^(\S+ _\w+)$/, '$1')));
    expect(found.keys).toEqual(model.keys);
    expect(
      found.indexes.filter((index) => !SQL_ONLY.indexes.includes(index) || model.indexes.includes(index)),
    ).toEqual(model.indexes);
    expect(found.foreignKeys.filter((key) => !SQL_ONLY.foreignKeys.includes(key))).toEqual(model.foreignKeys);
  });

  it('hold the same tables, each written through one door', async () => {
    const { rows } = await owner.query(
      `SELECT tablename FROM pg_tables WHERE schemaname = 'public' AND tablename <> '_prisma_migrations'`,
    );
    const tables = rows.map((row) => row.tablename).sort();
    expect(tables).toEqual(
      readModels()
        .map((model) => model.table)
        .sort(),
    );
    const { RECORD_TABLES, KEEP_TABLES, OWN_TABLES } = await import('@/lib/records/tables');
    expect([...RECORD_TABLES, ...KEEP_TABLES, ...OWN_TABLES].sort()).toEqual(tables);
  });

  it('begin every key with the lab, but for what is looked up before a lab is known', async () => {
    const apart = ['labs', 'setup_links', 'sign_in_counters'];
    const keys = readModels().filter((model) => !apart.includes(model.table));
    expect(keys.filter((model) => !model.keys[0]?.startsWith('lab_id')).map((model) => model.table)).toEqual(
      [],
    );
  });

  it('name columns as the bulk loader names them', async () => {
    const { columnName } = await import('@/lib/records/bulk-rows');
    const text = readFileSync('prisma/schema.prisma', 'utf8');
    for (const [, field, column] of text.matchAll(/^ {2}(\w+)\s.*@map\("(\w+)"\)/gm))
      expect(columnName(field)).toBe(column);
  });
});
