import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  CODE_ALPHABET,
  codeLengthFor,
  isPatientCode,
  LONGEST_CODE,
  makePatientCode,
  normalisePatientCode,
  SHORTEST_CODE,
} from '@/lib/registry/patient-code';

const LENGTHS = [4, 5, 6, 7, 8];
const LETTERS = [...CODE_ALPHABET];
const bytes = (length: number) => fc.uint8Array({ minLength: length, maxLength: length });

/** A code whose payload is the given text: the byte k < 29 stands for the k-th character. */
const codeOf = (payload: string) =>
  makePatientCode(
    Uint8Array.from([...payload].map((letter) => CODE_ALPHABET.indexOf(letter))),
    payload.length,
  );

/** The characters that carry information: payload and check character. */
const bareOf = (code: string) => code.slice(2).replace('-', '');
const written = (bare: string) => `P-${bare.slice(0, -1)}-${bare.slice(-1)}`;

describe('patient code', () => {
  it('is the hand-worked one', () => {
    // Values 0 1 2 3 by weights 5 4 3 2: 4 + 6 + 6 = 16, and 16 + 13 = 29; the character of value 13 is F.
    expect(codeOf('2345')).toBe('P-2345-F');
    // Values 28 28 28 28 by 5 4 3 2: 28 x 14 = 392 = 13 x 29 + 15, so 14 is missing: G.
    expect(codeOf('YYYY')).toBe('P-YYYY-G');
    expect(codeOf('22222222')).toBe('P-22222222-2');
  });

  it('uses 29 characters, none of which is misread for 0, 1 or 2', () => {
    expect(new Set(LETTERS).size).toBe(29);
    for (const lookalike of '01ILOUZ') expect(CODE_ALPHABET).not.toContain(lookalike);
  });

  it('has the form that the database demands, for any bytes and length', () => {
    fc.assert(
      fc.property(bytes(64), fc.constantFrom(...LENGTHS), (random, length) => {
        fc.pre(random.filter((byte) => byte < 232).length >= length);
        const code = makePatientCode(random, length);
        expect(code).toMatch(/^P-[0-9A-Z]{4,8}-[0-9A-Z]$/);
        expect(bareOf(code)).toHaveLength(length + 1);
        expect(isPatientCode(code)).toBe(true);
      }),
    );
  });

  it('gives every character the same chance: 8 of the 232 fair bytes each', () => {
    const counts = new Map<string, number>();
    for (let byte = 0; byte < 232; byte += 1) {
      const letter = makePatientCode(Uint8Array.of(byte, 0, 0, 0)).charAt(2);
      counts.set(letter, (counts.get(letter) ?? 0) + 1);
    }
    expect([...counts.values()]).toEqual(LETTERS.map(() => 8));
    expect(() => makePatientCode(Uint8Array.of(232, 240, 255, 1, 2, 3))).toThrow(/too few random bytes/);
  });

  it('catches every single wrong character, at every place, for every pair of characters', () => {
    for (const length of LENGTHS) {
      for (const filler of ['2', 'K', 'Y']) {
        for (let place = 0; place < length; place += 1) {
          for (const right of LETTERS) {
            const bare = bareOf(
              codeOf(`${filler.repeat(place)}${right}${filler.repeat(length - place - 1)}`),
            );
            for (const wrong of LETTERS) {
              const mistyped = `${bare.slice(0, place)}${wrong}${bare.slice(place + 1)}`;
              if (isPatientCode(written(mistyped)) !== (wrong === right)) {
                expect.fail(`${mistyped} for ${bare}`);
              }
            }
          }
        }
        const bare = bareOf(codeOf(filler.repeat(length)));
        const passing = LETTERS.filter((check) => isPatientCode(written(`${bare.slice(0, -1)}${check}`)));
        expect(passing).toEqual([bare.slice(-1)]);
      }
    }
  });

  it('catches every swap of two different characters, adjacent or not, check character included', () => {
    for (const length of LENGTHS) {
      for (const first of LETTERS) {
        for (const second of LETTERS) {
          for (let place = 0; place + 1 < length; place += 1) {
            const payload = `${'7'.repeat(place)}${first}${second}${'7'.repeat(length - place - 2)}`;
            const bare = [...bareOf(codeOf(payload))];
            for (let a = 0; a < bare.length; a += 1) {
              for (let b = a + 1; b < bare.length; b += 1) {
                const swapped = [...bare];
                [swapped[a], swapped[b]] = [swapped[b] ?? '', swapped[a] ?? ''];
                if (isPatientCode(written(swapped.join(''))) !== (bare[a] === bare[b])) {
                  expect.fail(`${swapped.join('')} for ${bare.join('')}`);
                }
              }
            }
          }
        }
      }
    }
  });

  it.each([
    ['p2345f', 'P-2345-F'],
    [' P 2345 f ', 'P-2345-F'],
    ['P–2345—F', 'P-2345-F'],
    ['p-2345f', 'P-2345-F'],
    ['P-2345-G', null],
    ['2345-F', null],
    ['P-234O-F', null],
    ['P-2345', null],
    ['', null],
    ['P', null],
    [`P-${'2'.repeat(60)}-2`, null],
  ])('reads %j as %j', (typed, code) => {
    expect(normalisePatientCode(typed)).toBe(code);
  });

  it('reads back what it wrote, without hyphens and in small letters', () => {
    fc.assert(
      fc.property(bytes(80), fc.constantFrom(...LENGTHS), (random, length) => {
        fc.pre(random.filter((byte) => byte < 232).length >= length);
        const code = makePatientCode(random, length);
        expect(normalisePatientCode(code.toLowerCase().replaceAll('-', ' '))).toBe(code);
      }),
    );
  });

  it('refuses a length that the database would refuse', () => {
    for (const length of [0, 3, 9, 4.5, Number.NaN]) {
      expect(() => makePatientCode(new Uint8Array(64), length)).toThrow(RangeError);
    }
  });

  it('grows before one code in twenty is taken', () => {
    // 29^4 = 707,281; a twentieth is 35,364.
    expect(codeLengthFor(0)).toBe(SHORTEST_CODE);
    expect(codeLengthFor(35_364)).toBe(4);
    expect(codeLengthFor(35_365)).toBe(5);
    expect(codeLengthFor(1e15)).toBe(LONGEST_CODE);
  });
});
