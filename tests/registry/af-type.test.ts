import { describe, expect, it } from 'vitest';
import { deriveAfType } from '@/lib/registry/af-type';

/** 2017 consensus statement, Table 1. */
describe('the AF type by the longest episode', () => {
  it.each([
    [0, 'by-itself', 'paroxysmal'],
    [7, 'by-itself', 'paroxysmal'],
    [7, 'shock', 'paroxysmal'],
    [7, null, 'paroxysmal'],
    [8, 'by-itself', 'early-persistent'],
    [91, 'shock', 'early-persistent'],
    [92, 'shock', 'persistent'],
    [365, 'ablation', 'persistent'],
    [366, 'ablation', 'long-standing-persistent'],
  ] as const)('%i days, ended %s: %s', (days, ending, expected) => {
    expect(deriveAfType(days, ending)).toMatchObject({ kind: 'derived', afType: expected });
  });

  it('does not follow from a short episode that was still running when the procedure began', () => {
    expect(deriveAfType(7, 'ablation')).toEqual({
      kind: 'notDerivable',
      reason: 'The episode had lasted 7 days and was still running when the procedure began.',
    });
    expect(deriveAfType(8, 'ablation').kind).toBe('derived');
  });

  it('does not follow from nothing, and says so', () => {
    expect(deriveAfType(null, 'shock')).toEqual({
      kind: 'notDerivable',
      reason: 'The longest episode is not recorded.',
    });
    expect(deriveAfType(1, 'shock').reason).toBe('The longest episode ended within 7 days (1 day).');
  });
});
