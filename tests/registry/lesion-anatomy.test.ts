import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  contradictionsOfVeins,
  offeredStructures,
  proposedRings,
  ringsToBeginWith,
  sideOfRing,
  sortVeins,
  veinsInRing,
  whyNotOffered,
} from '@/lib/registry/lesion-anatomy';
import { LINES, STRUCTURES, VEIN_RINGS } from '@/lib/registry/lesion-vocabulary';
import { USUAL } from './lesion-sets';

const ALWAYS = ['roof', 'floor', 'mitral-isthmus', 'cavotricuspid'];

describe('what an anatomy offers', () => {
  it.each([
    ['four usual veins', USUAL, ['left-pair', 'right-pair', ...USUAL, 'carina-left', 'carina-right']],
    [
      'a left common ostium',
      ['lcpv', 'rspv', 'ripv'],
      ['right-pair', 'lcpv', 'rspv', 'ripv', 'carina-right'],
    ],
    ['a right common ostium', ['lspv', 'lipv', 'rcpv'], ['left-pair', 'lspv', 'lipv', 'rcpv', 'carina-left']],
    ['both common', ['lcpv', 'rcpv'], ['lcpv', 'rcpv']],
    [
      'middle veins on both sides',
      [...USUAL, 'lmpv', 'rmpv'],
      ['left-pair', 'right-pair', ...USUAL, 'lmpv', 'rmpv', 'carina-left', 'carina-right'],
    ],
    [
      'a right top and an accessory vein',
      [...USUAL, 'right-top', 'accessory'],
      ['left-pair', 'right-pair', ...USUAL, 'right-top', 'accessory', 'carina-left', 'carina-right'],
    ],
    ['one left vein only', ['lspv', 'rspv', 'ripv'], ['right-pair', 'lspv', 'rspv', 'ripv', 'carina-right']],
    ['no veins', [], []],
  ])('%s', (_name, veins, expected) => {
    expect([...offeredStructures(veins)].sort()).toEqual([...expected, ...ALWAYS].sort());
  });

  it('says why it has no place for a structure', () => {
    const common = ['lcpv', 'rspv', 'ripv'];
    expect(whyNotOffered(common, 'carina-left')).toBe(
      'the left veins have a common ostium, so there is no carina line',
    );
    expect(whyNotOffered(common, 'left-pair')).toBe(
      'the left veins have a common ostium, which is a ring of its own',
    );
    expect(whyNotOffered(common, 'lspv')).toBe('this anatomy has no left superior vein');
    expect(whyNotOffered(['lspv', 'rspv'], 'carina-right')).toBe('this anatomy has no pair of right veins');
    expect(whyNotOffered(USUAL, 'rmpv')).toBe('this anatomy has no right middle vein');
    expect(whyNotOffered(USUAL, 'roof')).toBeNull();
  });

  it('gives a reason for a structure exactly where it does not offer it', () => {
    const anatomy = fc.subarray(VEIN_RINGS.map(({ code }) => code));
    fc.assert(
      fc.property(anatomy, fc.constantFrom(...STRUCTURES.map(({ code }) => code)), (veins, structure) => {
        expect(whyNotOffered(veins, structure) === null).toBe(offeredStructures(veins).includes(structure));
      }),
    );
  });

  it('proposes the pairs, each vein by itself for ostial work, and a common ostium as it is', () => {
    expect(proposedRings(USUAL, 'wide-encircling')).toEqual(['left-pair', 'right-pair']);
    expect(proposedRings([...USUAL, 'rmpv'], null)).toEqual(['left-pair', 'right-pair']);
    expect(proposedRings([...USUAL, 'rmpv'], 'ostial')).toEqual(sortVeins([...USUAL, 'rmpv']));
    expect(proposedRings(['lcpv', 'rspv', 'ripv'], 'wide-with-lines')).toEqual(['right-pair', 'lcpv']);
  });
});

describe('rings that a form begins with', () => {
  it('are those recorded, and the plan for a side of which nothing is recorded', () => {
    expect(ringsToBeginWith(USUAL, 'wide-encircling', [])).toEqual(['left-pair', 'right-pair']);
    expect(ringsToBeginWith(USUAL, 'wide-encircling', ['left-pair'])).toEqual(['left-pair', 'right-pair']);
    expect(ringsToBeginWith(USUAL, 'wide-encircling', ['lspv'])).toEqual(['lspv', 'right-pair']);
    expect(ringsToBeginWith(USUAL, 'ostial', ['left-pair', 'right-pair'])).toEqual([
      'left-pair',
      'right-pair',
    ]);
  });
});

describe('veins', () => {
  it('beside their own common ostium contradict it', () => {
    expect(contradictionsOfVeins(USUAL)).toEqual([]);
    expect(contradictionsOfVeins(['lcpv', 'accessory', 'rspv', 'ripv', 'right-top'])).toEqual([]);
    expect(contradictionsOfVeins(['lcpv', 'lipv', 'rcpv', 'rspv', 'ripv'])).toEqual([
      expect.stringMatching(/left common ostium takes the place of the left inferior vein/),
      expect.stringMatching(
        /right common ostium takes the place of the right superior vein and right inferior vein/,
      ),
    ]);
  });

  it('are sorted, each once, and unknown words left out', () => {
    expect(sortVeins(['ripv', 'lspv', 'lspv', 'nonsense'])).toEqual(['lspv', 'ripv']);
  });

  it('lie on a side and in a ring', () => {
    expect(veinsInRing('right-pair')).toEqual(['rspv', 'rmpv', 'ripv']);
    expect(veinsInRing('lcpv')).toEqual(['lspv', 'lipv']);
    expect(veinsInRing('right-top')).toEqual(['right-top']);
    for (const { code } of LINES) expect([sideOfRing(code), veinsInRing(code)]).toEqual([null, []]);
    expect(['right-top', 'lmpv', 'left-pair', 'accessory'].map(sideOfRing)).toEqual([
      'right',
      'left',
      'left',
      null,
    ]);
  });
});
