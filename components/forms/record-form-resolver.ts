import { zodResolver } from '@hookform/resolvers/zod';
import { type FieldErrors, type FieldValues, type Resolver, set } from 'react-hook-form';
import type { z } from 'zod';
import { type Finding, isRefused } from '@/lib/registry/findings';
import { errorsOfFindings } from './form-findings';

/**
 * The schema's findings, then, once the schema is content, the refusals of the further check (which needs whole values).
 * Warnings do not stop a save here: the form shows them once.
 */
export function recordFormResolver<Input extends FieldValues, Output extends FieldValues>(
  schema: z.ZodType<Output, Input>,
  check: (values: Output) => readonly Finding[],
): Resolver<Input, unknown, Output> {
  const bySchema = zodResolver(schema);
  return async (values, context, options) => {
    const result = await bySchema(values, context, options);
    const parsed = Object.keys(result.errors).length > 0 ? undefined : schema.safeParse(values);
    if (!parsed?.success) return result;
    const findings = check(parsed.data);
    if (!isRefused(findings)) return result;
    const refused = findings.filter((finding) => finding.kind === 'refusal');
    const errors = errorsOfFindings(refused, (tree, path, leaf) => set(tree, path, leaf));
    return { values: {}, errors: errors as FieldErrors<Input> };
  };
}
