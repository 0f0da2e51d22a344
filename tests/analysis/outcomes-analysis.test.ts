import { describe, expect, it } from 'vitest';
import { survivalAt } from '@/lib/statistics/index';
import { definitionOf, PLAIN_RULES, type ShortCase, shortCohort } from './outcomes-cohort';
import { answer, opened } from './outcomes-place';

/** Five with a time (day 100 event, 120 free, 150 event, 200 free, 400 free), three without. */
const FIVE: readonly ShortCase[] = [
  { af: 100, strategy: 'ostial' },
  { clean: [120], strategy: 'ostial' },
  { af: 150, strategy: 'wide-encircling' },
  { clean: [95, 200], strategy: 'wide-encircling' },
  { clean: [400] },
  { clean: [90], strategy: 'ostial' },
  { ordinal: 2, clean: [300], strategy: 'ostial' },
  { death: 50, strategy: 'ostial' },
];

const survivalOn = (curve: Parameters<typeof survivalAt>[0], day: number) => {
  const [point] = survivalAt(curve, [day]);
  return point.kind === 'estimated' ? point.survival : undefined;
};

describe('the analysis of hand-made cases', () => {
  it('gives the product limit: 4/5 after day 100, 4/5 x 2/3 = 8/15 after day 150', () => {
    const { analysis, view } = answer(shortCohort(FIVE));
    expect(analysis.outcomes.analysed).toBe(5);
    expect(survivalOn(analysis.overall.curve, 149)).toBeCloseTo(4 / 5, 15);
    expect(survivalOn(analysis.overall.curve, 365)).toBeCloseTo(8 / 15, 15);
    expect(view.twelveMonths.value).toBe('53.3\u2009%');
  });

  it('lets nobody be at risk before blanking ends: a case that leaves on day 91 was at risk with all others', () => {
    const { analysis } = answer(shortCohort([{ af: 91 }, { clean: [200] }]));
    expect(survivalOn(analysis.overall.curve, 91)).toBe(0.5);
    expect(Array.from(analysis.overall.curve.entryDays)).toEqual([90]);
  });

  it('counts the flow, parts adding up to steps and steps to those registered', () => {
    const { view } = answer(shortCohort(FIVE));
    expect(view.flow.map(({ label, count, depth, minus }) => [depth, minus, label, count.text])).toEqual([
      [0, false, 'Procedures registered', '8'],
      [1, true, 'not the first procedure', '1'],
      [1, true, 'death during blanking', '1'],
      [1, true, 'no recording after blanking', '1'],
      [0, false, 'Analysed', '5'],
      [0, false, 'With a recurrence', '2'],
      [1, false, 'AF recorded', '2'],
      [0, false, 'Without a recurrence as far as known', '3'],
      [1, false, 'free at the last recording', '3'],
    ]);
  });

  it('parts by strategy in the order of the vocabulary, and counts who has none apart', () => {
    const { analysis, view } = answer(shortCohort(FIVE), { by: 'derived-strategy' });
    expect(view.groups.map(({ label, analysed, events }) => [label, analysed.text, events.text])).toEqual([
      ['Ostial', '2', '1'],
      ['Wide encircling', '2', '1'],
      ['All cases', '5', '2'],
    ]);
    expect(view.apart.map(({ label, count }) => [label, count.text])).toEqual([['not recorded', '1']]);
    expect(analysis.series.map(({ curve }) => survivalOn(curve, 365))).toEqual([0.5, 0.5]);
  });

  it('tests the groups drawn: observed 1 and 1, expected 2/4 and 2/4 + 1 by hand', () => {
    const { analysis, view } = answer(shortCohort(FIVE), { by: 'derived-strategy' });
    if (analysis.logRank?.kind !== 'tested') throw new Error('not tested');
    expect(analysis.logRank.groups.map(({ observed, expected }) => [observed, expected])).toEqual([
      [1, 0.5],
      [1, 1.5],
    ]);
    // Variance: 1/2 x 1/2 at day 100; at day 150 only one group is left, so it adds nothing.
    expect(analysis.logRank.chiSquare).toBeCloseTo(0.25 / 0.25, 14);
    expect(view.comparison).toContain('chi-square 1.00 on 1 degree of freedom, p = 0.32');
    expect(view.comparison).toContain('Do not read a difference here as an effect');
  });

  it('with competing deaths gives one minus the incidence: 1 - (1/5 + 3/5 x 1/3) = 3/5', () => {
    const cases: ShortCase[] = [{ af: 100 }, { death: 120 }, { af: 150 }, { clean: [200] }, { clean: [400] }];
    const { analysis, view } = answer(shortCohort(cases), {}, { ...PLAIN_RULES, deathRule: 'competing' });
    expect(survivalOn(analysis.overall.curve, 365)).toBeCloseTo(3 / 5, 15);
    expect(view.freedom).toBe('Without a recurrence');
    // Death before a recurrence: S(120-) x 1/4 = 4/5 x 1/4.
    expect(view.deathBefore?.value).toBe('20.0\u2009%');
    expect(view.groups[0]?.died?.text).toBe('1');
    expect(view.groups[0]?.censored.text).toBe('2');
    expect(view.figure.caption.join(' ')).toContain('Aalen-Johansen');
  });

  it('filters by what is recorded, by years with both ends, and says the cohort in words', () => {
    const cohort = shortCohort([
      { clean: [200], operator: 'OP-1', performedOnDay: 19_357 }, // 31 Dec 2022
      { clean: [200], operator: 'OP-1', performedOnDay: 19_358 }, // 1 Jan 2023
      { clean: [200], operator: 'OP-1', performedOnDay: 19_722 }, // 31 Dec 2023
      { clean: [200], operator: 'OP-2', performedOnDay: 19_600 },
      { clean: [200], performedOnDay: 19_600 },
    ]);
    const { analysis, view } = answer(cohort, { operator: 'OP-1', from: '2023', to: '2023' });
    expect(Array.from(analysis.inCohort)).toEqual([0, 1, 1, 0, 0]);
    expect(view.cohort).toBe('operator OP-1, procedures of 2023');
    const outside = view.flow.find(({ label }) => label === 'outside the cohort');
    expect(outside && Array.from(opened(cohort, outside.count.href))).toEqual([0, 3, 4]);
  });

  it('draws the five largest groups and keeps the others apart', () => {
    const tags = ['a', 'b', 'c', 'd', 'e', 'f', 'g'];
    const cases = tags.flatMap((tag, i) => Array.from({ length: 12 - i }, () => ({ clean: [200], tag })));
    const { analysis } = answer(shortCohort(cases), { by: 'cohort-tag' });
    expect(analysis.series.map(({ label }) => label)).toEqual(['a', 'b', 'c', 'd', 'e']);
    expect(analysis.notDrawnCount).toBe(7 + 6);
  });

  it('says when several cases belong to one patient', () => {
    const rules = { ...PLAIN_RULES, start: 'each-procedure' as const };
    const { analysis, view } = answer(
      shortCohort([
        { clean: [200], patient: 0 },
        { clean: [200], patient: 0, ordinal: 2 },
        { clean: [300], patient: 1 },
      ]),
      {},
      rules,
    );
    expect(analysis.patientsWithSeveral).toBe(1);
    expect(view.figure.caption.join(' ')).toContain('1 patient has several cases here');
  });

  it('survives a lab without cases', () => {
    const { view } = answer(shortCohort([]), { by: 'af-type' });
    expect(view.figure.sentence).toBe('No case is analysed under this definition in this cohort.');
    expect(view.figure.drawings).toBeUndefined();
    expect(view.twelveMonths.value).toBe('not given');
    expect(view.comparison).toContain('not tested');
  });

  it('refuses contradictory rules before it looks at a case', () => {
    expect(() =>
      answer(shortCohort([]), { start: 'last-procedure' }, definitionOf(PLAIN_RULES).rules),
    ).toThrow(/no repeat can follow/);
  });
});
