import type { z } from 'zod';
import { type Finding, findingsOfZod } from '@/lib/registry/findings';

/** What a form says about an input: [field, message] pairs, in order; empty when it is accepted. */
export function refusalsOf(schema: z.ZodType, input: unknown): [string, string][] {
  const parsed = schema.safeParse(input);
  return parsed.success ? [] : findingsOfZod(parsed.error).map(({ field, message }) => [field, message]);
}

export const fieldsOf = (findings: readonly Finding[], kind: Finding['kind']): string[] =>
  findings.filter((finding) => finding.kind === kind).map((finding) => finding.field);
