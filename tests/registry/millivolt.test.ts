import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  MOST_UV,
  millivoltFigure,
  millivoltText,
  readMillivolt,
  reductionTenths,
} from '@/lib/registry/millivolt';

describe('an amplitude typed in millivolt', () => {
  it.each([
    ['0.08', 80],
    ['.08', 80],
    ['0.080', 80],
    ['0.8', 800],
    ['0.800', 800],
    ['1.4', 1400],
    ['0.07', 70],
    ['0.29', 290],
    ['1.005', 1005],
    ['2', 2000],
    ['0', 0],
    ['0.0000', 0],
    ['007', 7000],
    ['20', 20_000],
    ['20.000', 20_000],
  ])('%s mV is %i microvolt', (text, uv) => {
    expect(readMillivolt(text)).toEqual({ uv });
  });

  it.each([
    ['', /is not a number/],
    ['.', /is not a number/],
    ['-0.1', /is not a number/],
    ['1e-3', /is not a number/],
    ['0.08 mV', /is not a number/],
    ['0,08', /Write a point instead: 0\.08\.$/],
    [',08', /Write a point instead: 0\.08\.$/],
    ['0.0805', /finer than a microvolt/],
    ['20.001', /from 0 to 20 mV\.$/],
    ['80', /80 mV is not possible.*If microvolt are meant, write 0\.08\.$/],
    ['999999999999999999', /not possible/],
  ])('"%s" is refused and says how to mend it', (text, problem) => {
    expect(readMillivolt(text)).toEqual({ problem: expect.stringMatching(problem) });
  });

  it('comes back from its text exactly, for every microvolt that is kept', () => {
    for (let uv = 0; uv <= MOST_UV; uv += 1) {
      expect(readMillivolt(millivoltText(uv))).toEqual({ uv });
      expect(readMillivolt(millivoltFigure(uv))).toEqual({ uv });
    }
  });

  it('is printed with two decimals, a third where it says something', () => {
    expect([0, 80, 125, 1400, 2000].map(millivoltFigure)).toEqual(['0.00', '0.08', '0.125', '1.40', '2.00']);
    expect([0, 80, 125, 1400, 2000].map(millivoltText)).toEqual(['0', '0.08', '0.125', '1.4', '2']);
  });
});

describe('the reduction that is shown', () => {
  it.each([
    [800, 80, 900],
    [2000, 150, 925],
    [800, 200, 750],
    [1001, 100, 900],
    [800, 0, 1000],
    [500, 900, -800],
    [0, 0, null],
    [null, 10, null],
    [10, null, null],
  ])('%s to %s microvolt: %s tenths of a percent', (before, after, tenths) => {
    expect(reductionTenths(before, after)).toBe(tenths);
  });

  it('never shows more than was lost', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: MOST_UV }),
        fc.integer({ min: 0, max: MOST_UV }),
        (before, after) => {
          expect((reductionTenths(before, after) ?? 0) * before).toBeLessThanOrEqual(1000 * (before - after));
        },
      ),
    );
  });
});
