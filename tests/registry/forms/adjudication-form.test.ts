import { describe, expect, it } from 'vitest';
import { calendarDay as day } from '@/lib/registry/calendar-day';
import {
  type AdjudicationContext,
  adjudicationSchema,
  checkAdjudication,
  judgedFacts,
  reportText,
  reportWords,
  SAME_PERSON,
} from '@/lib/registry/forms/adjudication-form';
import { harmTicks } from '@/lib/registry/forms/complication-entries';
import { fieldsOf, refusalsOf } from './findings-of';

const reported = { type: 'haematoma', onsetOn: day('2024-03-02'), harms: [], severity: 'minor' } as const;
const typed = {
  verdict: 'reclassified',
  type: 'haematoma',
  onsetOn: '2024-03-02',
  harms: harmTicks(),
  severity: 'by-rule',
  version: 1,
  seenReport: reportText(reported),
  reason: '',
};
const context: AdjudicationContext = {
  performedOn: day('2024-03-01'),
  today: day('2024-12-01'),
  diedOn: null,
  nextPerformedOn: null,
  others: [],
  judgedReport: null,
  reported,
  reportedById: 'coordinator',
  judgeId: 'physician',
  isAdjudicated: false,
};
const parse = (input: Record<string, unknown>) => adjudicationSchema.parse({ ...typed, ...input });
const check = (input: Record<string, unknown>, change: Partial<AdjudicationContext> = {}) =>
  checkAdjudication(parse(input), { ...context, ...change });

describe('an adjudication', () => {
  it('confirms what was reported, whatever else the form holds', () => {
    expect(check({ verdict: 'confirmed', type: 'tia' })).toEqual([]);
    expect(judgedFacts(parse({ verdict: 'confirmed', type: 'tia' }), reported)).toEqual(reported);
  });

  it('refutes, and then has no facts', () => {
    expect(check({ verdict: 'refuted' })).toEqual([]);
    expect(judgedFacts(parse({ verdict: 'refuted' }), reported)).toBeNull();
  });

  it.each<[string, Record<string, unknown>]>([
    ['another complication', { type: 'pseudo-aneurysm' }],
    ['another day', { onsetOn: '2024-03-03' }],
    ['other harm', { harms: harmTicks(['transfusion']) }],
    ['another severity', { severity: 'major' }],
  ])('reclassifies as %s', (_what, input) => {
    expect(fieldsOf(check(input), 'refusal')).toEqual([]);
  });

  it('takes the severity of the rule, or the one decided', () => {
    expect(judgedFacts(parse({ harms: harmTicks(['transfusion']) }), reported)?.severity).toBe('major');
    expect(judgedFacts(parse({ severity: 'major' }), reported)).toEqual({ ...reported, severity: 'major' });
  });

  it('refuses to reclassify as what was reported', () => {
    expect(fieldsOf(check({}), 'refusal')).toEqual(['verdict']);
  });

  it('refuses the person who reported it, whatever the verdict', () => {
    for (const verdict of ['confirmed', 'refuted']) {
      const found = check({ verdict }, { judgeId: 'coordinator' });
      expect(found).toEqual([{ field: 'verdict', message: SAME_PERSON, kind: 'refusal' }]);
    }
    expect(check({ verdict: 'confirmed' }, { reportedById: null })).toEqual([]);
  });

  it('asks for a reason when an earlier verdict is changed', () => {
    const change = { isAdjudicated: true };
    expect(fieldsOf(check({ verdict: 'refuted' }, change), 'refusal')).toEqual(['reason']);
    expect(check({ verdict: 'refuted', reason: 'late-information' }, change)).toEqual([]);
  });

  it('asks what it was instead, and checks that against the case', () => {
    expect(
      refusalsOf(adjudicationSchema, { ...typed, type: '', onsetOn: '' }).map(([field]) => field),
    ).toEqual(['type', 'onsetOn']);
    expect(fieldsOf(check({ onsetOn: '2024-02-28' }), 'refusal')).toEqual(['onsetOn']);
    expect(fieldsOf(check({ onsetOn: '2024-05-01' }), 'warning')).toEqual(['onsetOn']);
  });

  it('knows the report that it is about, in codes and in words', () => {
    const text = reportText({ ...reported, harms: ['transfusion', 'intervention'], severity: 'major' });
    expect(text).toBe('haematoma 2024-03-02 major intervention transfusion');
    expect(reportWords(text)).toBe('Groin haematoma, 2024-03-02, major, intervention, transfusion');
    expect(refusalsOf(adjudicationSchema, { ...typed, seenReport: 'x'.repeat(401) })).toHaveLength(1);
  });
});
