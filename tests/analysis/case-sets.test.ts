import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { caseListView } from '@/lib/analysis/outcomes/case-list';
import { caseSetText, casesInSet, DAY_SETS, parseCaseSet } from '@/lib/analysis/outcomes/case-set';
import { countsOnDays } from '@/lib/analysis/outcomes/tick-counts';
import { STATUS } from '@/lib/registry/time-to-event';
import { END_CAUSES, EXCLUSION_REASONS } from '@/lib/registry/time-to-event-causes';
import { PLAIN_RULES, randomCohort } from './outcomes-cohort';
import { answer, opened, paramsOf } from './outcomes-place';

interface Found {
  readonly href: string;
  readonly text: string | undefined;
}

/** Every link anywhere in a view, found by looking at all of it. */
function linksIn(value: unknown): Found[] {
  if (typeof value !== 'object' || value === null) return [];
  const here =
    'href' in value && typeof value.href === 'string'
      ? [{ href: value.href, text: 'text' in value ? String(value.text) : undefined }]
      : [];
  return [...here, ...Object.values(value).flatMap(linksIn)];
}

const QUESTIONS: readonly Record<string, string>[] = [
  {},
  { by: 'derived-strategy' },
  { by: 'af-type', death: 'competing', from: '2018', to: '2020' },
  { by: 'intended-strategy', repeat: 'failure', death: 'failure', operator: 'OP-2' },
  { start: 'each-procedure', by: 'derived-strategy', blanking: '30', endInclusive: 'no' },
  { by: 'cohort-tag' },
];

describe('every number of the page', () => {
  it.each(QUESTIONS)('opens exactly its cases: %o', (params) => {
    const cohort = randomCohort(11, 400);
    const { view } = answer(cohort, params);
    const links = linksIn(view);
    const counts = links.filter(({ text }) => text !== undefined);
    expect(counts.length).toBeGreaterThan(15);
    for (const { href, text } of counts) {
      expect(`${href} ${opened(cohort, href).length}`).toBe(`${href} ${text?.replaceAll(',', '')}`);
    }
    const estimates = links.filter(({ text }) => text === undefined);
    expect(estimates.length).toBeGreaterThanOrEqual(3);
    for (const { href } of estimates) expect(paramsOf(href).set).toBe('analysed');
    for (const { href } of links) expect(href).not.toMatch(/[=:]P-|patient/i);
  });

  it('leads to sets that mean what they say, case by case', () => {
    const cohort = randomCohort(12, 300);
    const { analysis } = answer(cohort, { by: 'af-type', death: 'competing' });
    const { outcomes } = analysis;
    const lists = (set: string, scope?: string) => {
      const parsed = parseCaseSet(set);
      return new Set(parsed && casesInSet(analysis, parsed, scope));
    };
    const at = (index: number) => outcomes.caseIndex.indexOf(index);
    for (let index = 0; index < cohort.size; index += 1) {
      const position = at(index);
      const time = outcomes.timeDays[position];
      const status = outcomes.status[position];
      const analysed = position >= 0;
      expect(lists('analysed').has(index)).toBe(analysed);
      expect(lists('excluded').has(index)).toBe(!analysed);
      expect(lists('at-risk:200').has(index)).toBe(analysed && time >= 200);
      expect(lists('events-before:200').has(index)).toBe(analysed && time < 200 && status === STATUS.event);
      expect(lists('died-before:200').has(index)).toBe(
        analysed && time < 200 && status === STATUS.competingDeath,
      );
      expect(lists('analysed', 'is:persistent').has(index)).toBe(
        analysed && cohort.afType.codes[cohort.afType.index[index]] === 'persistent',
      );
      expect(lists('analysed', 'not-recorded').has(index)).toBe(analysed && cohort.afType.index[index] === 0);
    }
  });

  it('under the axis adds up to the group at every tick, in thousands of random cohorts', () => {
    fc.assert(
      fc.property(
        fc.nat(1e9),
        fc.integer({ min: 0, max: 25 }),
        fc.array(fc.integer({ min: 0, max: 500 }), { minLength: 1, maxLength: 6 }),
        fc.constantFrom('censoring' as const, 'competing' as const, 'failure' as const),
        (seed, size, days, deathRule) => {
          const { analysis } = answer(randomCohort(seed, size, 300), {}, { ...PLAIN_RULES, deathRule });
          const { overall, outcomes } = analysis;
          for (const { day, counts } of countsOnDays(outcomes, overall, days)) {
            expect(Object.values(counts).reduce((sum, count) => sum + count, 0)).toBe(outcomes.analysed);
            for (const kind of DAY_SETS) {
              expect(casesInSet(analysis, { kind, day }, undefined)?.length).toBe(counts[kind]);
            }
          }
        },
      ),
      { numRuns: 3000 },
    );
  });
});

describe('the name of a set in an address', () => {
  it('reads back as it was written', () => {
    const sets = [
      { kind: 'analysed' as const },
      { kind: 'at-risk' as const, day: 365 },
      ...EXCLUSION_REASONS.map(({ code }) => ({ kind: 'excluded-for' as const, code })),
      ...END_CAUSES.map(({ code }) => ({ kind: 'ended-by' as const, code })),
    ];
    for (const set of sets) expect(parseCaseSet(caseSetText(set))).toEqual(set);
  });

  it.each([
    '',
    'everybody',
    'at-risk',
    'at-risk:',
    'at-risk:-1',
    'at-risk:1e3',
    'ended-by:magic',
    'excluded-for:',
  ])('is refused when it is none: "%s"', (text) => expect(parseCaseSet(text)).toBeUndefined());
});

describe('the list behind a number', () => {
  const cohort = randomCohort(13, 400);
  const { question, analysis, view } = answer(cohort, { by: 'derived-strategy' });

  it('pages through all cases of the set, each once', () => {
    const codes: string[] = [];
    let params: Record<string, string> | undefined = { set: 'analysed' };
    while (params) {
      const list = caseListView(question, analysis, params);
      if (!list) throw new Error('no list');
      expect(list.total).toBe(analysis.outcomes.analysed);
      expect(list.lines.length).toBe(list.to - list.from + 1);
      codes.push(...list.lines.map(({ procedureId }) => procedureId));
      params = list.nextHref === undefined ? undefined : paramsOf(list.nextHref);
    }
    expect(codes).toEqual(Array.from(analysis.outcomes.caseIndex, (index) => cohort.procedureId[index]));
  });

  it('names the estimate it stands behind, and that it is no share of the list', () => {
    const line = view.groups[0];
    const list = line && caseListView(question, analysis, paramsOf(line.twelveMonths.href));
    expect(list?.explains).toContain(`${line?.twelveMonths.value} (${line?.twelveMonths.interval})`);
    expect(list?.explains).toContain('not a share that can be counted');
    expect(list?.total).toBe(Number(line?.analysed.text));
  });

  it('gives each case a time, a status and a sentence; none of them where it was excluded, with the reason', () => {
    const list = caseListView(question, analysis, { set: 'in-cohort' });
    for (const { timeDays, sentence, status } of list?.lines ?? []) {
      expect(sentence.startsWith('Not analysed')).toBe(timeDays === undefined);
      expect(status).not.toBe('');
    }
  });

  it('does not exist for a set, a group or a page that does not', () => {
    expect(caseListView(question, analysis, { set: 'nonsense' })).toBeUndefined();
    expect(caseListView(question, analysis, { set: 'analysed', of: 'is:nonsense' })).toBeUndefined();
    expect(caseListView(question, analysis, { set: 'analysed', page: '9999' })?.nextHref).toBeUndefined();
    expect(caseListView(question, analysis, { set: 'analysed', page: '-3' })?.from).toBe(1);
  });
});
