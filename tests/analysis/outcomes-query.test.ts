import { describe, expect, it } from 'vitest';
import { outcomesHref } from '@/lib/analysis/outcomes/case-links';
import { queryParams, readOutcomesQuery } from '@/lib/analysis/outcomes/outcomes-query';
import { putQuestion } from '@/lib/analysis/outcomes/question';
import { questionForms } from '@/lib/analysis/outcomes/question-forms';
import { definitionOf, PLAIN_RULES, shortCohort } from './outcomes-cohort';

const STORED = definitionOf(PLAIN_RULES);
const ask = (params: Record<string, string | string[]>) => putQuestion(readOutcomesQuery(params), [STORED]);
const refusals = (params: Record<string, string | string[]>) =>
  ask(params)
    .findings.filter(({ kind }) => kind === 'refusal')
    .map(({ field }) => field);

describe('an address', () => {
  it('without parameters asks the first definition of the lab about all cases', () => {
    const { question } = ask({});
    expect(question?.definition).toBe(STORED);
    expect(question?.varied).toBe(false);
    expect(question?.version).toBe('version 2 of 4 Mar 2026');
  });

  it('reads back as it was written, whatever it holds', () => {
    const params = {
      definition: 'definition-1',
      start: 'each-procedure',
      blanking: '56',
      endInclusive: 'no',
      seconds: '0',
      drugs: 'must-be-off',
      cardioversion: 'yes',
      labelled: 'ostial',
      derived: 'not-derivable',
      af: 'paroxysmal',
      operator: 'OP 1/ä&b',
      from: '2019',
      to: '2020',
      tag: 'study: 50 %',
      by: 'cohort-tag',
    };
    const { query, findings } = readOutcomesQuery(params);
    expect(findings).toEqual([]);
    const href = outcomesHref(query);
    const again = Object.fromEntries(new URL(href, 'http://localhost').searchParams);
    expect(again).toEqual(params);
    expect(queryParams(readOutcomesQuery(again).query).toString()).toBe(queryParams(query).toString());
  });

  it('that varies a rule says that the variation is stored nowhere; the stored value varies nothing', () => {
    const { question } = ask({ blanking: '30' });
    expect(question?.varied).toBe(true);
    expect(question?.name).toBe('Variation of Test, not a stored version');
    expect(question?.sentence).toContain('after 30 days');
    expect(ask({ blanking: '90', endInclusive: 'yes' }).question?.varied).toBe(false);
  });

  it('with contradictory rules is refused with the reason, and what was chosen stays in the forms', () => {
    const params = { start: 'last-procedure', by: 'af-type', af: 'persistent' };
    const read = readOutcomesQuery(params);
    const { question, findings, definition } = putQuestion(read, [STORED]);
    expect(question).toBeUndefined();
    expect(findings.map(({ field }) => field)).toEqual(['repeat']);
    const forms = questionForms(read, findings, [STORED], definition, shortCohort([{ clean: [200] }]));
    expect(forms.rules.find(({ param }) => param === 'start')?.value).toBe('last-procedure');
    expect(forms.rules.find(({ param }) => param === 'repeat')?.error).toContain('no repeat can follow');
    expect(forms.filters.find(({ param }) => param === 'af')?.value).toBe('persistent');
    expect(forms.keepFilters).toEqual([
      ['af', 'persistent'],
      ['by', 'af-type'],
    ]);
  });

  it.each([
    [{ blanking: 'ninety' }, ['blanking']],
    [{ blanking: '-1' }, ['blanking']],
    [{ blanking: '366' }, ['blanking']],
    [{ blanking: '30.5' }, ['blanking']],
    [{ drugs: 'sometimes' }, ['drugs']],
    [{ endInclusive: 'perhaps' }, ['endInclusive']],
    [{ af: 'permanent' }, ['af']],
    [{ from: '19' }, ['from']],
    [{ from: '2021', to: '2020' }, ['from']],
    [{ by: 'weather' }, ['by']],
    [{ definition: 'another' }, ['definition']],
    [{ operator: 'P-7KQ2-X' }, ['operator']],
    [{ blanking: 'x', af: 'y', by: 'z' }, ['blanking', 'af', 'by']],
  ])('%o is refused at %o, all at once', (params, fields) => {
    expect(refusals(params).sort()).toEqual([...fields].sort());
    expect(ask(params).question).toBeUndefined();
  });

  it('takes the first of a repeated parameter, passes over empty and unknown ones, and cuts endless ones', () => {
    const { query, typed } = readOutcomesQuery({
      blanking: ['30', '60'],
      af: '',
      utm: 'x',
      operator: 'A'.repeat(5000),
    });
    expect(query.variation).toEqual({ blankingDays: 30 });
    expect(query.filter.af).toBeUndefined();
    expect(Object.keys(typed)).toEqual(['blanking', 'operator']);
    expect(typed.operator).toHaveLength(100);
  });

  it('warns of what is seldom meant without refusing it', () => {
    const { question, findings } = ask({ blanking: '0', endInclusive: 'no' });
    expect(question).toBeDefined();
    expect(findings.map(({ kind, field }) => [kind, field])).toEqual([['warning', 'endInclusive']]);
  });

  it('asks nothing of a lab without definitions', () => {
    expect(putQuestion(readOutcomesQuery({}), [])).toEqual({
      question: undefined,
      definition: undefined,
      findings: [],
    });
  });
});

describe('the forms', () => {
  it('offer what the lab has, say what is stored, and leave out filters that nothing could meet', () => {
    const cohort = shortCohort([
      { clean: [200], operator: 'OP-1', performedOnDay: 19_000 },
      { clean: [200], operator: 'OP-2', performedOnDay: 19_400 },
    ]);
    const read = readOutcomesQuery({});
    const forms = questionForms(read, [], [STORED], STORED, cohort);
    const filter = (param: string) => forms.filters.find((field) => field.param === param);
    expect(filter('operator')?.choices?.map(({ code }) => code)).toEqual(['OP-1', 'OP-2']);
    expect(filter('from')?.choices?.map(({ code }) => code)).toEqual(['2022', '2023']);
    expect(filter('tag')).toBeUndefined();
    const unset = Object.fromEntries(forms.rules.map((field) => [field.param, field.unset]));
    expect(unset.blanking).toBe('as stored: 90');
    expect(unset.endInclusive).toBe('as stored: is blanked');
    expect(unset.drugs).toBe('as stored: ignored');
  });
});
