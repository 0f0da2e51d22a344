import type { z } from 'zod';

/** Something to mend ('refusal': nothing is stored until it is) or to look at again ('warning': may be kept as it is). */
export interface Finding {
  /** Path of the field in the form, as in 'recordings.0.startedOn'; '' when it concerns the whole form. */
  readonly field: string;
  /** Plain words: what, where, how to mend it. */
  readonly message: string;
  readonly kind: 'refusal' | 'warning';
}

export const refusal = (field: string, message: string): Finding => ({ field, message, kind: 'refusal' });
export const warning = (field: string, message: string): Finding => ({ field, message, kind: 'warning' });

/** True when something must be mended before the entry can be stored. */
export function isRefused(findings: readonly Finding[]): boolean {
  return findings.some((finding) => finding.kind === 'refusal');
}

/** Every issue of a parse as a refusal, in the order of the form, each said once per field. */
export function findingsOfZod(error: z.ZodError): Finding[] {
  const found = new Map<string, Finding>();
  for (const issue of error.issues) {
    const field = issue.path.map(String).join('.');
    const message =
      issue.code === 'invalid_type' && issue.expected === 'object'
        ? 'This part of the form could not be read. Reload the page and enter it again.'
        : issue.code === 'unrecognized_keys'
          ? `This form does not know ${issue.keys.map((key) => `"${key.slice(0, 40)}"`).join(', ')}. Reload the page and enter it again: the form has changed.`
          : issue.message;
    found.set(`${field}\n${message}`, refusal(field, message));
  }
  return [...found.values()];
}
