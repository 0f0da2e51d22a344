import { compareAnswer, describeMismatch } from './compare';
import type { FoundCase, ReferenceCase } from './reference-case';

/** What the library answers to a case, shaped as its `expected`. Keys that the case does not ask for do no harm. */
export type Adapter = (one: ReferenceCase) => unknown;

export type RunReport = {
  readonly lines: readonly string[];
  readonly passed: number;
  readonly failed: number;
};

/** Puts each case to the adapter of its method: one line per difference, then how many cases passed. */
export function runCases(cases: readonly FoundCase[], adapters: ReadonlyMap<string, Adapter>): RunReport {
  const failures = cases.map((found) => failuresOf(found, adapters));
  const failed = failures.filter((lines) => lines.length > 0).length;
  return { lines: failures.flat(), passed: cases.length - failed, failed };
}

function failuresOf(found: FoundCase, adapters: ReadonlyMap<string, Adapter>): string[] {
  if (found.kind === 'unreadable') return [`${found.name}: cannot be read: ${found.reason}`];
  const { one } = found;
  const adapter = adapters.get(one.method);
  if (!adapter) return [`${one.id}: no adapter for the method ${one.method}`];
  try {
    const differences = compareAnswer(adapter(one), one.expected, one.tolerance);
    return differences.map((difference) => `${one.id}: ${describeMismatch(difference)}`);
  } catch (error) {
    return [`${one.id}: ${String(error)}`];
  }
}
