import { z } from 'zod';
import type { Finding } from '../findings';
import { KEEP_REASONS } from '../procedure-vocabulary';
import { requiredChoiceEntry } from './entries';

const MOST = 400;

/** Values outside their usual range that a person keeps, each with a reason: what a form sends along with its values. */
export const keptEntries = z
  .array(
    z.strictObject({
      field: z.string().min(1).max(120),
      reason: requiredChoiceEntry('Reason to keep it', KEEP_REASONS),
    }),
  )
  .max(MOST)
  .default([]);

export type KeptEntry = z.output<typeof keptEntries>[number];

/** What still stands in the way of storing: refusals, and warnings that nobody has answered for. */
export function standingFindings(
  findings: readonly Finding[],
  kept: readonly KeptEntry[],
): readonly Finding[] {
  const answered = new Set(kept.map(({ field }) => field));
  return findings.filter((finding) => finding.kind === 'refusal' || !answered.has(finding.field));
}

/** What is stored: field, value as text and reason of each value that is in fact unusual. */
export function keptValuesOf(
  findings: readonly Finding[],
  kept: readonly KeptEntry[],
  values: object,
): { field: string; value: string; reason: string }[] {
  const unusual = new Set(findings.filter(({ kind }) => kind === 'warning').map(({ field }) => field));
  return kept
    .filter(({ field }) => unusual.has(field))
    .map(({ field, reason }) => ({ field, value: textAt(values, field), reason }));
}

function textAt(values: object, path: string): string {
  let value: unknown = values;
  for (const name of path.split('.')) {
    value =
      typeof value === 'object' && value !== null
        ? Object.entries(value).find(([key]) => key === name)?.[1]
        : null;
  }
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  return typeof value === 'string' || typeof value === 'number' ? String(value) : '';
}
