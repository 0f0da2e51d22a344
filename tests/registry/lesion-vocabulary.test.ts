import { describe, expect, it } from 'vitest';
import {
  isSegmentOf,
  kindOfStructure,
  LINES,
  PAIR_RINGS,
  STRUCTURES,
  segmentsOf,
  VEIN_RINGS,
} from '@/lib/registry/lesion-vocabulary';

describe('lesion vocabulary', () => {
  it('gives a pair ring its eight segments in order', () => {
    for (const { code } of PAIR_RINGS) {
      expect(segmentsOf(code).map((term) => term.label)).toEqual([
        'Superior',
        'Antero-superior',
        'Anterior carina',
        'Antero-inferior',
        'Inferior',
        'Postero-inferior',
        'Posterior carina',
        'Postero-superior',
      ]);
    }
  });

  it('gives every single vein, common ostia included, four quadrants, and a line one segment', () => {
    for (const { code } of VEIN_RINGS) expect(segmentsOf(code)).toHaveLength(4);
    for (const { code } of LINES) expect(segmentsOf(code).map((term) => term.code)).toEqual(['line']);
  });

  it('has each code once', () => {
    const codes = STRUCTURES.map((term) => term.code);
    expect(new Set(codes).size).toBe(codes.length);
    expect(codes).toHaveLength(2 + 10 + 6);
  });

  it('knows what belongs together and what it does not know', () => {
    expect(kindOfStructure('left-pair')).toBe('pair-ring');
    expect(kindOfStructure('rcpv')).toBe('vein-ring');
    expect(kindOfStructure('mitral-isthmus')).toBe('line');
    expect(kindOfStructure('appendage')).toBeNull();
    expect(segmentsOf('appendage')).toEqual([]);
    expect(isSegmentOf('left-pair', 'anterior-carina')).toBe(true);
    expect(isSegmentOf('lspv', 'anterior-carina')).toBe(false);
    expect(isSegmentOf('roof', 'line')).toBe(true);
  });
});
