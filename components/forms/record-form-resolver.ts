import { toNestErrors } from '@hookform/resolvers';
import type { FieldError, FieldValues, Resolver } from 'react-hook-form';
import type { z } from 'zod';
import { type Finding, findingsOfZod } from '@/lib/registry/findings';

/** Findings as react-hook-form's flat errors by path, the first of each field; those of the whole form under 'root.form'. */
function flatErrors(findings: readonly Finding[]): Record<string, FieldError> {
  const errors: Record<string, FieldError> = {};
  for (const { field, message, kind } of findings) {
    const path = field === '' ? 'root.form' : field;
    errors[path] ??= { type: kind, message };
  }
  return errors;
}

/**
 * The schema's findings in the very words that the server uses, then, once the schema is content, the refusals of the
 * further check (which needs whole values). Warnings do not stop a save here: the form shows them once.
 */
export function recordFormResolver<Input extends FieldValues, Output extends FieldValues>(
  schema: z.ZodType<Output, Input>,
  check: (values: Output) => readonly Finding[],
): Resolver<Input, unknown, Output> {
  return async (values, _context, options) => {
    const parsed = schema.safeParse(values);
    const findings = parsed.success
      ? check(parsed.data).filter((finding) => finding.kind === 'refusal')
      : findingsOfZod(parsed.error);
    if (parsed.success && findings.length === 0) return { values: parsed.data, errors: {} };
    return { values: {}, errors: toNestErrors(flatErrors(findings), options) };
  };
}
