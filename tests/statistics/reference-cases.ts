import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { fixtureFolder } from '../support/fixtures';

const REFERENCE_DIRECTORY = join(import.meta.dirname, '../reference');

/** A reference number: JSON has no NaN or infinity, so they stand as strings; null is R's NA. */
export const referenceNumber = z.union([z.number(), z.null(), z.enum(['NaN', 'Inf', '-Inf'])]);
export type ReferenceNumber = z.infer<typeof referenceNumber>;

const tolerance = z.object({ rel: z.number(), abs: z.number() });
export type Tolerance = z.infer<typeof tolerance>;

const caseHead = z.looseObject({
  id: z.string(),
  method: z.string(),
  source: z.object({ dataset: z.string(), licence: z.string() }),
  rCall: z.string(),
  tolerance,
});

/**
 * The cases of a method: those kept here and, where AFTERBEAT_FIXTURES leads to them, those that may not be
 * kept here because their data are under the GPL.
 */
export function loadCases<T>(method: string, shape: z.ZodType<T>): (T & z.infer<typeof caseHead>)[] {
  const files = jsonFiles(REFERENCE_DIRECTORY);
  const outside = gplCases();
  if (outside) {
    const known = new Set(files.map((file) => file.name));
    files.push(...jsonFiles(outside).filter((file) => !known.has(file.name)));
  }
  return files.flatMap(({ path }) => {
    const content: unknown = JSON.parse(readFileSync(path, 'utf8'));
    const head = caseHead.safeParse(content);
    if (!head.success || head.data.method !== method) return [];
    return [{ ...head.data, ...shape.parse(content) }];
  });
}

/** The folder of reference cases whose data are under the GPL, or undefined. */
export const gplCases = (): string | undefined => fixtureFolder('km-gehan-6mp.json');

/** One file of the reference directory, checked against a shape. */
export function loadReference<T>(name: string, shape: z.ZodType<T>): T {
  return shape.parse(JSON.parse(readFileSync(join(REFERENCE_DIRECTORY, `${name}.json`), 'utf8')));
}

function jsonFiles(directory: string): { name: string; path: string }[] {
  return readdirSync(directory)
    .filter((name) => name.endsWith('.json'))
    .map((name) => ({ name, path: join(directory, name) }));
}

/** What differs between computed and reference numbers, as readable lines; empty when all agree. */
export function differences(
  what: string,
  got: ArrayLike<number>,
  expected: readonly ReferenceNumber[],
  { rel, abs }: Tolerance,
): string[] {
  if (got.length !== expected.length) return [`${what}: ${got.length} values, expected ${expected.length}`];
  return expected.flatMap((want, i) =>
    typeof want === 'number' && Math.abs(got[i] - want) <= abs + rel * Math.abs(want)
      ? []
      : [`${what}[${i}]: got ${got[i]}, expected ${want}`],
  );
}

/** Whole-number codes for labels, in the order of `labels`. */
export function codesOf(
  column: readonly (string | number)[],
  labels: readonly (string | number)[],
): number[] {
  return column.map((label) => labels.findIndex((known) => String(known) === String(label)));
}
