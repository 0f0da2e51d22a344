import { join } from 'node:path';
import { ADAPTERS } from '../reference-run/methods';
import { type ReferenceCase, readCases } from '../reference-run/reference-case';
import { runCases } from '../reference-run/run-cases';

/** The cases of a method that are kept here; tables printed in papers (`pub-`) have tests of their own. */
export function keptCases(method: string): ReferenceCase[] {
  return readCases(join(import.meta.dirname, '../reference')).flatMap((found) =>
    found.kind === 'case' && found.one.method === method && !found.one.id.startsWith('pub-')
      ? [found.one]
      : [],
  );
}

/** Where the library's answer to a case differs from it, one line each. */
export function differencesFrom(one: ReferenceCase): readonly string[] {
  return runCases([{ kind: 'case', name: one.id, one }], ADAPTERS).lines;
}
