import type { Tolerance } from './reference-case';

/** One place at which an answer differs from what its case expects. */
export type Mismatch = {
  readonly path: string;
  readonly got: unknown;
  readonly expected: unknown;
  /** |got - expected| / |expected|, where both are finite numbers and expected is not 0. */
  readonly relative: number | undefined;
};

/** Told apart from every value that an answer may hold. */
const LACKING = Symbol('lacking');

/**
 * R's `quantile` answers otherwise than its printed curve where the curve ends at the level asked for; the cases that
 * record this say that it is to be ignored, for the printed rule is the definition.
 */
const IGNORED = new Set(['quantileFunctionDiffers']);

/**
 * Where an answer differs from what a case expects, in the order of the case; empty when all agree.
 *
 * Numbers agree within the tolerance. null and NaN (also as the word) both mean that there is no value, 'Inf' and '-Inf'
 * are infinite. Lists must have one length. A key that the answer lacks is a mismatch; one that the case does not ask for
 * is none. Limits of a survival curve (`lower`, `upper` beside or below `surv`, one per value of it): where S is 1 they may
 * be 1 or missing, where S is 0 they must be missing.
 */
export function compareAnswer(got: unknown, expected: unknown, tolerance: Tolerance): Mismatch[] {
  return compareValue('', got, expected, { tolerance, survival: undefined });
}

type Context = {
  readonly tolerance: Tolerance;
  /** The curve whose limits stand below, or undefined. */
  readonly survival: readonly unknown[] | undefined;
};

function compareValue(path: string, got: unknown, expected: unknown, context: Context): Mismatch[] {
  if (Array.isArray(expected)) return compareList(path, got, expected, context.tolerance);
  if (isRecord(expected)) return compareKeys(path, got, expected, context);
  return agree(got, expected, context.tolerance) ? [] : [mismatch(path, got, expected)];
}

function compareList(
  path: string,
  got: unknown,
  expected: readonly unknown[],
  tolerance: Tolerance,
): Mismatch[] {
  const list = listOf(got);
  if (!list) return [mismatch(path, got, expected)];
  if (list.length !== expected.length) return [mismatch(`${path}.length`, list.length, expected.length)];
  const context = { tolerance, survival: undefined };
  return expected.flatMap((want, i) => compareValue(`${path}[${i}]`, list[i], want, context));
}

function compareKeys(
  path: string,
  got: unknown,
  expected: Readonly<Record<string, unknown>>,
  context: Context,
): Mismatch[] {
  const survival = Array.isArray(expected.surv) ? expected.surv : context.survival;
  return Object.entries(expected).flatMap(([key, want]) => {
    if (IGNORED.has(key)) return [];
    const at = path === '' ? key : `${path}.${key}`;
    const value = isRecord(got) && Object.hasOwn(got, key) ? got[key] : LACKING;
    if (value === LACKING) return [mismatch(at, LACKING, want)];
    if ((key === 'lower' || key === 'upper') && survival && Array.isArray(want))
      return compareLimits(at, value, want, survival, context.tolerance);
    // Limits of quantiles are times, not limits of the curve.
    const below = key === 'quantiles' || key === 'median' ? undefined : survival;
    return compareValue(at, value, want, { ...context, survival: below });
  });
}

function compareLimits(
  path: string,
  got: unknown,
  expected: readonly unknown[],
  survival: readonly unknown[],
  tolerance: Tolerance,
): Mismatch[] {
  const list = listOf(got);
  if (!list || list.length !== expected.length || survival.length !== expected.length)
    return compareList(path, got, expected, tolerance);
  return expected.flatMap((want, i) => {
    const value = numberOf(list[i]);
    if (survival[i] === 1 && (value === null || agree(value, 1, tolerance))) return [];
    const due = survival[i] === 0 ? null : want;
    return agree(value, due, tolerance) ? [] : [mismatch(`${path}[${i}]`, list[i], due)];
  });
}

function agree(got: unknown, expected: unknown, { rel, abs }: Tolerance): boolean {
  const [a, b] = [numberOf(got), numberOf(expected)];
  if (a === b) return true;
  if (typeof a !== 'number' || typeof b !== 'number' || !Number.isFinite(b)) return false;
  return Math.abs(a - b) <= abs + rel * Math.abs(b);
}

/** A value with its words for numbers read: null for no value, infinities as numbers, all else as it is. */
function numberOf(value: unknown): unknown {
  if (value === 'NaN' || (typeof value === 'number' && Number.isNaN(value))) return null;
  if (value === 'Inf') return Number.POSITIVE_INFINITY;
  return value === '-Inf' ? Number.NEGATIVE_INFINITY : value;
}

function mismatch(path: string, got: unknown, expected: unknown): Mismatch {
  const [a, b] = [numberOf(got), numberOf(expected)];
  const both = typeof a === 'number' && typeof b === 'number' && Number.isFinite(a) && Number.isFinite(b);
  const relative = both && b !== 0 ? Math.abs(a - b) / Math.abs(b) : undefined;
  return { path, got, expected, relative };
}

function listOf(value: unknown): readonly unknown[] | undefined {
  if (Array.isArray(value)) return value;
  if (value instanceof Float64Array || value instanceof Int32Array || value instanceof Uint8Array)
    return Array.from(value);
  return undefined;
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !listOf(value);
}

/** A mismatch as one line: where, what was got, what was expected, how far apart. */
export function describeMismatch({ path, got, expected, relative }: Mismatch): string {
  const distance = relative === undefined ? '' : `, relative difference ${relative.toExponential(2)}`;
  return `${path}: got ${inWords(got)}, expected ${inWords(expected)}${distance}`;
}

function inWords(value: unknown): string {
  if (value === LACKING) return 'no such key';
  if (value === undefined) return 'undefined';
  const list = typeof value === 'object' && value !== null ? listOf(value) : undefined;
  const text = typeof value === 'number' ? String(value) : JSON.stringify(list ?? value);
  return text.length > 120 ? `${text.slice(0, 117)}...` : text;
}
