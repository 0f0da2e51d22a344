import { describe, expect, it } from 'vitest';
import { groupByEarly, membersOf } from '@/lib/analysis/follow-up/early-groups';
import { earlyCases, earlyRecurrenceView } from '@/lib/analysis/follow-up/early-recurrence';
import { caseUnderDefinitions } from '@/lib/analysis/follow-up/first-episodes';
import { addDays, fromEpochDay } from '@/lib/registry/calendar-day';
import { cohortOf, EMPTY_CASE, recorded, type TestCase } from '../registry/time-to-event-cases';
import { definitionOf, PLAIN_RULES } from './outcomes-cohort';

/** Procedures of `cohortOf` are on epoch day 0; a year and a half later all windows are over. */
const TODAY = addDays(fromEpochDay(0), 550);
const definition = definitionOf(PLAIN_RULES);
const one = (more: Partial<TestCase>): TestCase => ({ ...EMPTY_CASE, ...more });
const watched = (af: readonly number[], clean: readonly number[] = [50, 400]): TestCase =>
  one({
    recordings: [...clean.map((day) => recorded('sinus', day)), ...af.map((day) => recorded('af', day))],
  });
const repeat = <T>(count: number, make: () => T): T[] => Array.from({ length: count }, make);

describe('early recurrence of a lab', () => {
  // Published: 31 of 99 with early recurrence, 26 of them with a late one (PMC, n=100, 99 complete).
  const published = cohortOf([
    ...repeat(26, () => watched([12, 200])),
    ...repeat(5, () => watched([12])),
    ...repeat(68, () => watched([])),
  ]);

  it('gives the published share with the Wilson limits of R (prop.test without correction)', () => {
    expect(earlyRecurrenceView(published, definition, TODAY).sentence).toBe(
      'Early recurrence was recorded in 31 of 99 cases: 31.3\u2009% (95\u2009% 23.0 to 41.0\u2009%).',
    );
  });

  it('tells later freedom by band: nobody is censored, so it is a plain share', () => {
    const { lines } = earlyRecurrenceView(published, definition, TODAY);
    expect(lines.map(({ key, later }) => [key, later.value])).toEqual([
      ['none', '100.0\u2009%'],
      // 5 of 31.
      ['0-30', '16.1\u2009%'],
      ['31-60', 'not given'],
      ['61-90', 'not given'],
    ]);
  });

  const mixed: readonly [string, TestCase][] = [
    ['none', watched([])],
    ['last-0-30', watched([3, 29])],
    ['last-31-60', watched([3, 45])],
    ['last-61-90', watched([70])],
    ['not-watched', one({ recordings: [recorded('sinus', 200)] })],
    ['cut-short', { ...watched([], [20]), next: 60 }],
    ['cut-short', { ...watched([], [20]), death: 60 }],
  ];
  const cohort = cohortOf(mixed.map(([, test]) => test));

  it('puts each case into exactly one of the sets that make up all', () => {
    const groups = groupByEarly(cohort, PLAIN_RULES, TODAY);
    const sets = ['none', 'last-0-30', 'last-31-60', 'last-61-90', 'not-watched', 'cut-short', 'not-yet'];
    const places = sets.flatMap((set) =>
      (membersOf(groups, set) ?? []).map((place) => [place, set] as const),
    );
    expect([...places].sort(([a], [b]) => a - b).map(([, set]) => set)).toEqual(mixed.map(([set]) => set));
    expect(membersOf(groups, 'all')).toHaveLength(mixed.length);
    expect(membersOf(groups, 'evaluable')).toEqual([0, 1, 2, 3]);
    expect(membersOf(groups, 'first-0-30')).toEqual([1, 2]);
    expect(membersOf(groups, 'nonsense')).toBeUndefined();
    expect(membersOf(groups, 'constructor')).toBeUndefined();
  });

  it('does not call a case without it before its 90 days are over', () => {
    const early = addDays(fromEpochDay(0), 80);
    const groups = groupByEarly(cohortOf([watched([], [50]), watched([12], [50])]), PLAIN_RULES, early);
    expect(membersOf(groups, 'not-yet')).toEqual([0, 1]);
    expect(membersOf(groups, 'evaluable')).toEqual([]);
  });

  it('opens exactly the cases that each number counts', () => {
    const view = earlyRecurrenceView(cohort, definition, TODAY);
    const counts = [
      view.considered,
      ...view.notEvaluable.map(({ count }) => count),
      ...view.watched.map(({ count }) => count),
      ...view.lines.flatMap(({ first, last }) => (first ? [first, last] : [last])),
    ];
    for (const { text, href } of counts) {
      const set = new URL(href, 'http://localhost').searchParams.get('set') ?? '';
      expect(earlyCases(cohort, definition, TODAY, set)).toHaveLength(Number(text));
    }
    expect(earlyCases(cohort, definition, TODAY, 'last-31-60')).toEqual([
      {
        procedureId: 'procedure-2',
        code: 'P-2/1',
        performedOn: '1970-01-01',
        early: 'Recorded first on day 3 (band 0-30), last on day 45 (band 31-60).',
        watched: 'ECG',
      },
    ]);
  });

  it('blanks 90 days for what comes later, whatever the definition blanks', () => {
    const short = definitionOf({ ...PLAIN_RULES, blankingDays: 30 });
    expect(earlyRecurrenceView(cohort, short, TODAY).rules).toBe(
      earlyRecurrenceView(cohort, definition, TODAY).rules,
    );
  });

  it('leaves out procedures at which the definition does not start', () => {
    const second = { ...watched([12]), ordinal: 2 };
    expect(earlyRecurrenceView(cohortOf([watched([]), second]), definition, TODAY).considered.text).toBe('1');
  });

  it('says so when nobody can be looked at', () => {
    expect(earlyRecurrenceView(cohortOf([]), definition, TODAY).sentence).toBe(
      'No case has its first 90 days behind it and a recording in them.',
    );
  });
});

describe('one case under several definitions', () => {
  it('has a first episode of its own under each', () => {
    const cohort = cohortOf([
      one({
        recordings: [
          recorded('sinus', 100),
          recorded('af', 150, { wholeTracing: false, seconds: 60, grade: '24h' }),
          recorded('af', 220, { wholeTracing: false, seconds: 4000, grade: '24h' }),
        ],
      }),
    ]);
    const hour = { ...definitionOf({ ...PLAIN_RULES, minimumSeconds: 3600 }), id: 'hour', name: 'An hour' };
    const rows = caseUnderDefinitions(cohort, 'procedure-0', [definition, hour]);
    expect(rows.map(({ timeDays, status, why }) => [timeDays, status, why])).toEqual([
      [150, 'AF recorded', 'AF of 60 s on day 150, 24 h.'],
      [220, 'AF recorded', 'AF of 4000 s on day 220, 24 h.'],
    ]);
    expect(caseUnderDefinitions(cohort, 'nobody', [definition])).toEqual([]);
  });

  it('has the reason where it has no time', () => {
    const [row] = caseUnderDefinitions(cohortOf([one({})]), 'procedure-0', [definition]);
    expect(row).toMatchObject({ timeDays: undefined, status: 'No recording after blanking' });
  });
});
