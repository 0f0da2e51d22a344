import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { z } from 'zod';
import { gplCases } from './reference-cases';

const DIRECTORY = join(import.meta.dirname, '../reference');
const shape = z.union([
  z.object({ source: z.object({ licence: z.string() }) }).transform((file) => file.source.licence),
  z.object({ licence: z.string() }).transform((file) => file.licence),
]);

const outside = gplCases()
  ? 'cases under the GPL are read through AFTERBEAT_FIXTURES'
  : 'AFTERBEAT_FIXTURES leads to none: cases under the GPL are left out of this run';

it(`keeps no reference data under the plain GPL (${outside})`, () => {
  const names = readdirSync(DIRECTORY);
  expect(names.length).toBeGreaterThan(30);
  const licences = names.map((name) => ({
    name,
    licence: shape.parse(JSON.parse(readFileSync(join(DIRECTORY, name), 'utf8'))),
  }));
  expect(licences.filter(({ licence }) => licence.replaceAll('LGPL', '').includes('GPL'))).toEqual([]);
});
