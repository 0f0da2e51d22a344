import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { findingsOfZod, isRefused, refusal, warning } from '@/lib/registry/findings';

const findingsOf = (schema: z.ZodType, input: unknown) => {
  const parsed = schema.safeParse(input);
  return parsed.success ? [] : findingsOfZod(parsed.error);
};

describe('findings', () => {
  it('come all at once, by the path of their field', () => {
    const row = z.strictObject({ day: z.string({ error: 'Day is missing.' }) });
    const schema = z.strictObject({ name: z.string({ error: 'Name is missing.' }), rows: z.array(row) });
    expect(findingsOf(schema, { rows: [{ day: 'x' }, {}] })).toEqual([
      refusal('name', 'Name is missing.'),
      refusal('rows.1.day', 'Day is missing.'),
    ]);
  });

  it('say the same thing about a field once', () => {
    const schema = z.string().superRefine((_text, context) => {
      context.addIssue({ code: 'custom', message: 'Too bad.' });
      context.addIssue({ code: 'custom', message: 'Too bad.' });
      context.addIssue({ code: 'custom', message: 'Worse.' });
    });
    expect(findingsOf(schema, 'x').map((finding) => finding.message)).toEqual(['Too bad.', 'Worse.']);
  });

  it('explain fields that the form does not know, and a form that is none', () => {
    const schema = z.strictObject({});
    expect(findingsOf(schema, { surname: 'x' })[0]?.message).toMatch(
      /^This form does not know "surname"\. Reload/,
    );
    expect(findingsOf(schema, { ['y'.repeat(500)]: 1 })[0]?.message.length).toBeLessThan(200);
    expect(findingsOf(schema, null)[0]).toMatchObject({
      field: '',
      message: expect.stringMatching(/could not be read/),
    });
  });

  it('refuse only when one of them must be mended', () => {
    expect(isRefused([])).toBe(false);
    expect(isRefused([warning('a', 'b')])).toBe(false);
    expect(isRefused([warning('a', 'b'), refusal('a', 'c')])).toBe(true);
  });
});
