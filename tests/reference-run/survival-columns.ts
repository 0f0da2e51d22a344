import { z } from 'zod';

/** A group or stratum as the cases name it. */
export const label = z.union([z.string(), z.number()]);
export type Label = z.infer<typeof label>;

export const times = z.array(z.number());

/** The distinct labels in the order that factors get: numbers by size, words by the alphabet. */
export function levelsOf(column: readonly Label[]): Label[] {
  return [...new Set(column)].sort((a, b) =>
    typeof a === 'number' && typeof b === 'number' ? a - b : String(a).localeCompare(String(b), 'en'),
  );
}

/** Each label's place among the levels. */
export function codesOf(column: readonly Label[], levels: readonly Label[]): number[] {
  return column.map((one) => levels.indexOf(one));
}

/** A square matrix stored by rows, as rows. */
export function rowsOf(matrix: Float64Array, size: number): number[][] {
  return Array.from({ length: size }, (_, row) => Array.from(matrix.slice(row * size, (row + 1) * size)));
}
