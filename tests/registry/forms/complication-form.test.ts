import { describe, expect, it } from 'vitest';
import { calendarDay as day } from '@/lib/registry/calendar-day';
import { OUTCOMES, TREATMENTS } from '@/lib/registry/complication-vocabulary';
import {
  type ComplicationContext,
  checkComplicationAgainstCase,
} from '@/lib/registry/forms/complication-checks';
import { harmTicks } from '@/lib/registry/forms/complication-entries';
import {
  complicationAmendmentSchema,
  complicationFormSchema,
  emptyComplicationForm,
} from '@/lib/registry/forms/complication-form';
import { fieldsOf, refusalsOf } from './findings-of';

const typed = { ...emptyComplicationForm, type: 'haematoma', onsetOn: '2024-03-02' };
const refused = (input: Record<string, unknown>) =>
  refusalsOf(complicationFormSchema, { ...typed, ...input }).map(([field]) => field);
const ticked = (...harms: string[]) => ({ harms: harmTicks(harms) });

describe('the form of a complication', () => {
  it('takes what is known on the first day', () => {
    expect(complicationFormSchema.parse(typed)).toEqual({
      type: 'haematoma',
      onsetOn: '2024-03-02',
      harms: [],
      severity: 'by-rule',
      treatment: null,
      outcome: null,
      attribution: null,
      resolvedOn: null,
      kept: [],
    });
  });

  it('keeps several harms in the order of the list', () => {
    const { harms } = complicationFormSchema.parse({ ...typed, ...ticked('transfusion', 'intervention') });
    expect(harms).toEqual(['intervention', 'transfusion']);
  });

  it('says all that is missing or unreadable at once', () => {
    expect(refused({ type: '', onsetOn: '02/03/2024', severity: '' })).toEqual([
      'type',
      'onsetOn',
      'severity',
    ]);
  });

  it.each([
    ['an unknown complication', { type: 'boredom' }, 'type'],
    ['an unknown harm', { harms: { ...harmTicks(), boredom: true } }, 'harms'],
    ['harms that are no list', { harms: 'death' }, 'harms'],
    ['an end before the onset', { resolvedOn: '2024-03-01' }, 'resolvedOn'],
    ['an end and not recovered', { resolvedOn: '2024-03-09', outcome: 'not-recovered' }, 'outcome'],
    ['an end and lasting', { resolvedOn: '2024-03-09', outcome: 'lasting' }, 'outcome'],
    [
      'more than 30 days in seven',
      { resolvedOn: '2024-03-09', ...ticked('over-30-days') },
      'harms.over-30-days',
    ],
    ['fatal without a death', { outcome: 'fatal' }, 'harms.death'],
    ['a death that recovered', { outcome: 'recovered', ...ticked('death') }, 'outcome'],
    ['the death itself, recovered', { type: 'death', outcome: 'recovered' }, 'outcome'],
    ['recovered with a permanent injury', { outcome: 'recovered', ...ticked('permanent-injury') }, 'outcome'],
  ])('refuses %s', (_what, input, field) => {
    expect(refused(input)).toContain(field);
  });

  it.each(TREATMENTS)('treatment $code needs the harm that it is', ({ code, impliesHarm }) => {
    const wanted = impliesHarm === null ? [] : [`harms.${impliesHarm}`];
    expect(refused({ treatment: code })).toEqual(wanted);
    if (impliesHarm !== null) expect(refused({ treatment: code, ...ticked(impliesHarm) })).toEqual([]);
  });

  it('accepts day 31 as more than 30 days, and day 30 not', () => {
    const lasting = (resolvedOn: string) => refused({ resolvedOn, ...ticked('over-30-days') });
    expect(lasting('2024-04-01')).toEqual(['harms.over-30-days']);
    expect(lasting('2024-04-02')).toEqual([]);
  });

  it('asks for version and reason when it is changed', () => {
    expect(
      refusalsOf(complicationAmendmentSchema, { ...typed, version: '', reason: '' }).map(([f]) => f),
    ).toEqual(['version', 'reason']);
  });

  it.each(OUTCOMES)('has an outcome $code that fits something', ({ code }) => {
    const death = code === 'fatal' ? ticked('death') : {};
    expect(refused({ outcome: code, ...death })).toEqual([]);
  });
});

const context: ComplicationContext = {
  performedOn: day('2024-03-01'),
  today: day('2024-12-01'),
  diedOn: null,
  nextPerformedOn: null,
  others: [],
  judgedReport: null,
};
const check = (input: Record<string, unknown>, change: Partial<ComplicationContext> = {}) =>
  checkComplicationAgainstCase(complicationFormSchema.parse({ ...typed, ...input }), {
    ...context,
    ...change,
  });

describe('a complication against its case', () => {
  it('finds nothing in an ordinary one', () => {
    expect(check({ resolvedOn: '2024-03-20', outcome: 'recovered', treatment: 'compression' })).toEqual([]);
  });

  it.each<[string, string, Record<string, unknown>, Partial<ComplicationContext>]>([
    ['an onset before the procedure', 'onsetOn', { onsetOn: '2024-02-29' }, {}],
    ['an onset in the future', 'onsetOn', { onsetOn: '2024-12-02' }, {}],
    ['an onset after death', 'onsetOn', {}, { diedOn: day('2024-03-01') }],
    ['an end in the future', 'resolvedOn', { resolvedOn: '2024-12-02' }, {}],
    ['an end after death', 'resolvedOn', { resolvedOn: '2024-03-20' }, { diedOn: day('2024-03-19') }],
    ['the death itself on another day', 'onsetOn', { type: 'death' }, { diedOn: day('2024-03-05') }],
    ['the death itself after the death', 'onsetOn', { type: 'death' }, { diedOn: day('2024-03-01') }],
  ])('refuses %s', (_what, field, input, change) => {
    expect(fieldsOf(check(input, change), 'refusal')).toEqual([field]);
  });

  it('takes the death itself on its day, and an onset on the day of the procedure', () => {
    expect(check({ type: 'death', outcome: 'fatal' }, { diedOn: day('2024-03-02') })).toEqual([]);
    expect(check({ onsetOn: '2024-03-01' })).toEqual([]);
  });

  it.each<[string, string, Record<string, unknown>, Partial<ComplicationContext>]>([
    ['a tamponade on day 31', 'onsetOn', { type: 'tamponade', onsetOn: '2024-04-01' }, {}],
    ['a stenosis on day 6', 'onsetOn', { type: 'pv-stenosis', onsetOn: '2024-03-07' }, {}],
    ['a late stroke', 'onsetOn', { type: 'stroke', onsetOn: '2024-08-01' }, {}],
    ['a death that the patient’s record lacks', 'type', { type: 'death' }, {}],
    ['a deadly one that the patient’s record lacks', 'harms.death', ticked('death'), {}],
    ['one of the day of the next procedure', 'onsetOn', {}, { nextPerformedOn: day('2024-03-02') }],
    ['a severity that the rule does not give', 'severity', { severity: 'major' }, {}],
    ['an end without its day', 'resolvedOn', { outcome: 'recovered' }, {}],
    ['the same again', 'type', {}, { others: [{ type: 'haematoma', onsetOn: day('2024-03-02') }] }],
    [
      'a pericarditis of 31 days without the tick',
      'harms.over-30-days',
      { type: 'pericarditis', resolvedOn: '2024-04-02' },
      {},
    ],
  ])('asks about %s, and takes it', (_what, field, input, change) => {
    const found = check(input, change);
    expect(fieldsOf(found, 'refusal')).toEqual([]);
    expect(fieldsOf(found, 'warning')).toEqual([field]);
  });

  it('calls a stroke or bleeding after day 90 late, and any other onset outside its window unusual', () => {
    const words = (type: string, onsetOn: string) => check({ type, onsetOn })[0]?.message ?? '';
    for (const type of ['stroke', 'tia', 'bleeding-other']) {
      expect(words(type, '2024-05-31')).toContain('day 91 is after day 90. It is recorded and marked late');
      expect(words(type, '2024-05-30')).toContain('day 90 is outside the days');
    }
    expect(words('haematoma', '2024-05-31')).toContain('usually shows (day 0 to 30)');
  });

  it('does not ask for the tick of 30 days where it changes nothing', () => {
    expect(check({ type: 'haematoma', resolvedOn: '2024-05-01' })).toEqual([]);
  });

  it('says both severities when a person decides otherwise', () => {
    const [found] = check({ severity: 'major' });
    expect(found?.message).toContain('By the rule: Minor: no harm');
    expect(found?.message).toContain('you decided major');
  });
});

describe('a report that was adjudicated', () => {
  const judgedReport = {
    type: 'haematoma',
    onsetOn: day('2024-03-02'),
    harms: [],
    severity: 'minor',
  } as const;

  it.each<[string, Record<string, unknown>, string]>([
    ['its complication', { type: 'av-fistula' }, 'type'],
    ['its onset', { onsetOn: '2024-03-03' }, 'onsetOn'],
    ['its harms', ticked('transfusion'), 'harms.transfusion'],
    ['its severity', { severity: 'major' }, 'severity'],
  ])('keeps %s', (_what, input, field) => {
    expect(fieldsOf(check(input, { judgedReport }), 'refusal')).toContain(field);
  });

  it('takes a change of its course', () => {
    expect(check({ outcome: 'recovered', resolvedOn: '2024-03-20' }, { judgedReport })).toEqual([]);
  });
});
