import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type CaseLesions, deriveStrategy, type LesionFacts } from '@/lib/registry/derived-strategy';
import { segmentsOf } from '@/lib/registry/lesion-vocabulary';

/** A ring whose first segments are done at the given distances; null = done without a distance. */
const ring = (structure: string, ...distancesMm: (number | null)[]): LesionFacts[] =>
  distancesMm.map((distanceMm, index) => ({
    structure,
    segment: segmentsOf(structure)[index]?.code ?? '',
    state: 'done',
    distanceMm,
  }));
const even = (structure: string, distanceMm: number): LesionFacts[] =>
  ring(structure, ...segmentsOf(structure).map(() => distanceMm));
const line = (structure: string, state = 'done'): LesionFacts => ({
  structure,
  segment: 'line',
  state,
  distanceMm: null,
});
const as = (state: string, elements: LesionFacts[]): LesionFacts[] =>
  elements.map((element) => ({ ...element, state }));

const wide = [...even('left-pair', 12), ...even('right-pair', 14.5)];
const ostial = [...even('lspv', 5), ...even('lipv', 5), ...even('rspv', 5), ...even('ripv', 5)];
const rf = (...elements: LesionFacts[]): CaseLesions => ({ energy: 'radiofrequency', elements });

describe('derived strategy', () => {
  it.each<[string, CaseLesions, string]>([
    ['single-vein rings, all medians under 8 mm', rf(...ostial), 'ostial'],
    ['pair rings, all medians 8 to 20 mm', rf(...wide), 'wide-encircling'],
    ['wide plus a roof line', rf(...wide, line('roof')), 'wide-with-lines'],
    ['wide plus a floor line', rf(...wide, line('floor')), 'wide-with-lines'],
    ['wide plus a mitral line', rf(...wide, line('mitral-isthmus')), 'wide-with-lines'],
    ['a carina line is no added line', rf(...wide, line('carina-left')), 'wide-encircling'],
    ['a cavotricuspid line is no added line', rf(...wide, line('cavotricuspid')), 'wide-encircling'],
    ['a line that was not done adds nothing', rf(...wide, line('roof', 'not-done')), 'wide-encircling'],
    [
      'median exactly 8.0 mm is wide',
      rf(...even('left-pair', 8), ...even('right-pair', 8)),
      'wide-encircling',
    ],
    ['median exactly 20.0 mm is wide', rf(...even('left-pair', 20)), 'wide-encircling'],
    ['median 20.1 mm is not wide', rf(...even('left-pair', 20.1)), 'mixed'],
    ['single rings at 7.9 mm are ostial', rf(...even('lspv', 7.9)), 'ostial'],
    ['single rings at 8.0 mm are neither', rf(...even('lspv', 8)), 'mixed'],
    [
      '7.9 and 8.1 in the middle make a median of exactly 8',
      rf(...ring('lcpv', 7, 7.9, 8.1, 9)),
      'wide-encircling',
    ],
    ['7.9 and 8.0 in the middle make 7.95, under 8', rf(...ring('lspv', 7, 7.9, 8, 9)), 'ostial'],
    ['pair rings under 8 mm are not ostial', rf(...even('left-pair', 5), ...even('right-pair', 5)), 'mixed'],
    ['one pair ring wide, one close', rf(...even('left-pair', 12), ...even('right-pair', 5)), 'mixed'],
    ['pair ring and single vein ring', rf(...even('left-pair', 12), ...even('rspv', 5)), 'mixed'],
    ['an extra vein by itself beside wide pairs', rf(...wide, ...even('rmpv', 5)), 'mixed'],
    [
      'common ostium close: with ostial',
      rf(...even('lcpv', 5), ...even('rspv', 5), ...even('ripv', 5)),
      'ostial',
    ],
    ['common ostium far: with wide', rf(...even('lcpv', 12), ...even('right-pair', 12)), 'wide-encircling'],
    ['common ostium close beside a wide pair', rf(...even('lcpv', 5), ...even('right-pair', 12)), 'mixed'],
    ['common ostium far beside ostial rings', rf(...even('lcpv', 12), ...even('rspv', 5)), 'mixed'],
    ['6 of 8 distances are enough', rf(...ring('left-pair', 9, 9, 9, 9, 9, 9)), 'wide-encircling'],
    ['5 of 8 are not', rf(...ring('left-pair', 9, 9, 9, 9, 9)), 'not-derivable'],
    ['3 of 4 are enough', rf(...ring('lspv', 5, 5, 5)), 'ostial'],
    ['2 of 4 are not', rf(...ring('lspv', 5, 5)), 'not-derivable'],
    ['done without a distance is not a distance', rf(...ring('lspv', 5, 5, null, null)), 'not-derivable'],
    [
      'one ring too few, another complete',
      rf(...even('left-pair', 9), ...ring('right-pair', 9)),
      'not-derivable',
    ],
    [
      'segments not done do not count',
      rf(...ring('lspv', 5, 5), ...as('not-done', ring('lspv', 5, 5))),
      'not-derivable',
    ],
    [
      'a ring nobody did takes no part',
      rf(...even('left-pair', 9), ...as('not-done', even('rspv', 5))),
      'wide-encircling',
    ],
    [
      'a ring nobody recorded takes no part',
      rf(...ostial, ...as('not-recorded', even('left-pair', 9))),
      'ostial',
    ],
    [
      'a ring not applicable takes no part',
      rf(...ostial, ...as('not-applicable', even('rmpv', 9))),
      'ostial',
    ],
    ['nothing recorded', rf(), 'not-derivable'],
    ['nothing done', rf(...as('not-done', wide)), 'not-derivable'],
    ['lines alone', rf(line('cavotricuspid')), 'mixed'],
    ['cryoballoon', { energy: 'cryo-balloon', elements: [] }, 'single-shot'],
    ['laser balloon', { energy: 'laser', elements: wide }, 'single-shot'],
    [
      'multi-electrode device',
      { energy: 'pulsed-field', deviceType: 'multi-electrode', elements: [] },
      'single-shot',
    ],
    [
      'radiofrequency balloon',
      { energy: 'radiofrequency', deviceType: 'balloon', elements: wide },
      'single-shot',
    ],
    [
      'pulsed field by a focal catheter',
      { energy: 'pulsed-field', deviceType: 'focal', elements: wide },
      'wide-encircling',
    ],
    [
      'pulsed field, device not recorded: by its lesions',
      { energy: 'pulsed-field', elements: wide },
      'wide-encircling',
    ],
    ['energy not recorded: by its lesions', { energy: null, elements: ostial }, 'ostial'],
    ['focal cryo: by its lesions', { energy: 'cryo-focal', elements: ostial }, 'ostial'],
  ])('%s', (_rule, lesions, strategy) => {
    expect(deriveStrategy(lesions).strategy).toBe(strategy);
  });

  it('is the median, not the mean: one far segment changes nothing but warns', () => {
    const result = deriveStrategy(rf(...ring('left-pair', 9, 9, 9, 9, 9, 9, 9, 60)));
    expect(result.strategy).toBe('wide-encircling');
    expect(result.warnings).toContain(
      'Left pair, postero-superior: 60 mm is more than 20 mm from the ostium. Check the distance.',
    );
  });

  it('gives the reason in words, with the medians', () => {
    expect(deriveStrategy(rf(...wide, line('roof'), line('floor'))).reason).toBe(
      'Pairs encircled 8 to 20 mm from the ostia, plus roof line and floor line. Medians: left pair 12 mm and right pair 14.5 mm.',
    );
    expect(deriveStrategy(rf(...ring('lspv', 5, 5))).reason).toBe(
      'Too few done segments with a distance: left superior vein 2 of 4 (3 needed).',
    );
    expect(deriveStrategy(rf(...even('left-pair', 25))).reason).toMatch(/more than 20 mm/);
  });

  it('warns of ostial rings with an added line and of a single side', () => {
    expect(deriveStrategy(rf(...ostial, line('roof')))).toMatchObject({
      strategy: 'ostial',
      warnings: ['Ostial rings with roof line: no strategy of the list has both.'],
    });
    expect(deriveStrategy(rf(...even('left-pair', 9))).warnings).toEqual([
      'Only one side is recorded as done.',
    ]);
    expect(deriveStrategy(rf(...wide)).warnings).toEqual([]);
  });

  it('does not depend on the order of the rows', () => {
    const lesions = [...wide, ...ring('rmpv', 5, 6, 30), line('roof'), line('carina-right')];
    const expected = deriveStrategy(rf(...lesions));
    fc.assert(
      fc.property(fc.shuffledSubarray(lesions, { minLength: lesions.length }), (shuffled) => {
        const result = deriveStrategy(rf(...shuffled));
        expect({ ...result, warnings: [...result.warnings].sort() }).toEqual(expected);
      }),
    );
  });

  it('agrees with the rule written for one ring at a time', () => {
    const tenths = fc.array(fc.integer({ min: 0, max: 300 }), { minLength: 6, maxLength: 8 });
    fc.assert(
      fc.property(tenths, tenths, (left, right) => {
        const medianOf = (values: number[]) => {
          const sorted = [...values].sort((a, b) => a - b);
          const half = sorted.length / 2;
          return sorted.length % 2 === 1
            ? (sorted[(sorted.length - 1) / 2] ?? 0)
            : ((sorted[half - 1] ?? 0) + (sorted[half] ?? 0)) / 2;
        };
        const isWide = [left, right].every((values) => medianOf(values) >= 80 && medianOf(values) <= 200);
        const elements = [
          ...ring('left-pair', ...left.map((t) => t / 10)),
          ...ring('right-pair', ...right.map((t) => t / 10)),
        ];
        expect(deriveStrategy(rf(...elements)).strategy).toBe(isWide ? 'wide-encircling' : 'mixed');
      }),
      { numRuns: 500 },
    );
  });
});
