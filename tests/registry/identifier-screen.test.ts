import { describe, expect, it } from 'vitest';
import { identifierIn, screenDraft } from '@/lib/registry/identifier-screen';

/** Every text is invented. */
describe('the screen for identifiers', () => {
  it.each([
    ['write to anna.b@example.org', 'it looks like a mail address'],
    ['born 3.4.1951', 'it looks like a date of birth'],
    ['born 03/04/51', 'it looks like a date of birth'],
    ['born 1951-04-03', 'it looks like a date of birth'],
    ['seen with Dr Oster', 'it looks like a name'],
    ['Frau Linde', 'it looks like a name'],
    ['Linde, Katharina', 'it looks like a name'],
    ['number 1234567', 'it looks like a hospital or telephone number'],
    ['call 089 123 45', 'it looks like a hospital or telephone number'],
  ])('“%s”: %s', (text, reason) => {
    expect(identifierIn(text)).toBe(reason);
  });

  it.each(['', 'carina not reached', '12345', 'lot AB-123', 'waited 20 min, 12 mg', 'Roof line open'])(
    'has nothing against “%s”',
    (text) => expect(identifierIn(text)).toBeNull(),
  );

  it('lets a long number stand where one belongs, but no name', () => {
    expect(identifierIn('00412345678', true)).toBeNull();
    expect(identifierIn('Linde Katharina', true)).toBe('it looks like a name');
  });

  it('takes flagged texts out of a draft and leaves all else', () => {
    const values = {
      performedOn: '2024-03-01',
      operatorId: '7b1f7d5e-95f0-4a6b-8f83-7a2f5f0a3c11',
      energy: 'radiofrequency',
      deviceLot: '00412345678',
      procedureMinutes: '150',
      dapGyCm2: '12.25',
      imaging: '12345678',
      baseline: { drugs: ['sotalol', 'Linde, Katharina'], lvefPct: ' 55 ', diabetes: true, bmiKgM2: null },
    };
    expect(screenDraft(values)).toEqual({
      values: {
        ...values,
        imaging: '',
        baseline: { ...values.baseline, drugs: ['sotalol', ''] },
      },
      flagged: [
        { field: 'imaging', reason: 'it looks like a hospital or telephone number' },
        { field: 'baseline.drugs.1', reason: 'it looks like a name' },
      ],
    });
  });

  it('answers for a long hostile text at once', () => {
    expect(identifierIn('a'.repeat(1_000_000))).toBeNull();
    expect(identifierIn(`${'A'.repeat(5000)}@`)).toBeNull();
  });
});
