import { describe, expect, it } from 'vitest';
import { estimateKaplanMeier, testSurvivalDifference } from '@/lib/statistics';
import { expectMistake } from '../expect-mistake';
import { estimated } from './estimated';
import { fourCases, sixCases } from './six-cases';

const first = estimateKaplanMeier(sixCases);
const second = estimateKaplanMeier(fourCases);
const at = (...times: number[]) => testSurvivalDifference(first, second, times).map(estimated);

describe('by hand, on day 3', () => {
  const [found] = at(3);

  it('1/2 against 3/4, plain', () => {
    expect(found).toMatchObject({
      timeDays: 3,
      first: 0.5,
      second: 0.75,
      difference: -0.25,
      beyondFollowUp: false,
    });
    const plain = estimated(found.plain);
    const error = Math.sqrt(1 / 24 + 3 / 64);
    expect(plain.standardError).toBeCloseTo(error, 14);
    expect(plain.lower).toBeCloseTo(-0.25 - 1.959963984540054 * error, 13);
    expect(plain.upper).toBeCloseTo(-0.25 + 1.959963984540054 * error, 13);
    expect(plain.z).toBeCloseTo(-0.25 / error, 13);
    expect(plain.pValue).toBeCloseTo(0.400814, 6);
  });

  it('complementary log-log: positive, for the first is lower', () => {
    const logLog = estimated(found.logLog);
    const error = Math.sqrt(1 / 6 / Math.log(0.5) ** 2 + 1 / 12 / Math.log(0.75) ** 2);
    const z = (Math.log(Math.log(2)) - Math.log(Math.log(4 / 3))) / error;
    expect(logLog.z).toBeCloseTo(z, 13);
    expect(logLog.chiSquare).toBeCloseTo(z * z, 13);
    expect(logLog.pValue).toBeCloseTo(0.449775, 6);
  });

  it('with another confidence', () => {
    const [narrow] = testSurvivalDifference(first, second, [3], { confidenceLevel: 0.5 }).map(estimated);
    expect(estimated(narrow.plain).upper).toBeCloseTo(-0.25 + 0.6744897501960817 * Math.sqrt(17 / 192), 13);
  });
});

describe('where there is nothing to test', () => {
  it('before any event', () => {
    const [found] = at(0.5);
    expect(found).toMatchObject({ first: 1, second: 1, difference: 0 });
    expect(found.plain).toMatchObject({ kind: 'notEstimable', code: 'noEventYet' });
    expect(found.logLog).toMatchObject({ kind: 'notEstimable', code: 'curveAtEdge' });
  });

  it('with an event in one group only there is a plain test', () => {
    const [found] = at(1);
    expect(estimated(found.plain).standardError).toBeCloseTo(first.standardError[0], 15);
    expect(found.logLog).toMatchObject({ code: 'curveAtEdge' });
  });

  it('with a curve at zero, whichever', () => {
    const [found] = at(6);
    expect(found).toMatchObject({ first: 0, second: 0.5, beyondFollowUp: true });
    expect([found.plain, found.logLog]).toMatchObject([{ code: 'curveAtZero' }, { code: 'curveAtEdge' }]);
    const [turned] = testSurvivalDifference(second, first, [6]).map(estimated);
    expect(turned.plain).toMatchObject({ code: 'curveAtZero' });
  });

  it('marks times beyond the shorter follow-up', () => {
    expect(at(5, 5.5).map(({ beyondFollowUp }) => beyondFollowUp)).toEqual([false, true]);
  });

  it('without cases in a group', () => {
    const empty = estimateKaplanMeier({ timeDays: [], event: [] });
    expect(testSurvivalDifference(first, empty, [1, 2])).toMatchObject([
      { code: 'noRows' },
      { code: 'noRows' },
    ]);
    expect(testSurvivalDifference(empty, first, [1])).toMatchObject([{ code: 'noRows' }]);
  });
});

it('refuses mistakes', () => {
  expectMistake(() => testSurvivalDifference(first, second, [1, -1]), 'negative', 'times', 1);
  const options = { confidenceLevel: 0 };
  expectMistake(() => testSurvivalDifference(first, second, [1], options), 'outOfRange', 'confidenceLevel');
});
