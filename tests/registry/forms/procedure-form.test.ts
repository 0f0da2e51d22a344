import { zodResolver } from '@hookform/resolvers/zod';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { calendarDay } from '@/lib/registry/calendar-day';
import { BASELINE_NUMBERS } from '@/lib/registry/forms/baseline-entries';
import { PROCEDURE_LABELS } from '@/lib/registry/forms/field-labels';
import {
  checkProcedureAgainstPatient,
  type ProcedureContext,
  warningsOfProcedure,
} from '@/lib/registry/forms/procedure-checks';
import {
  emptyProcedureForm,
  fluoroscopyMinutesOf,
  fluoroscopySecondsOf,
  PROCEDURE_NUMBERS,
  type ProcedureForm,
  procedureAmendmentSchema,
  procedureFormSchema,
} from '@/lib/registry/forms/procedure-form';
import { AF_TYPES } from '@/lib/registry/vocabulary';
import { fieldsOf, refusalsOf } from './findings-of';

const typed = { ...emptyProcedureForm, performedOn: '2024-03-01', energy: 'radiofrequency' };
const withBaseline = (baseline: Record<string, unknown>) => ({
  ...typed,
  baseline: { ...typed.baseline, ...baseline },
});

describe('procedure form', () => {
  it('needs a day and an energy; everything not given is null, never a guess', () => {
    expect(refusalsOf(procedureFormSchema, emptyProcedureForm).map(([field]) => field)).toEqual([
      'performedOn',
      'energy',
    ]);
    const { performedOn, energy, kept, baseline, ...rest } = procedureFormSchema.parse(typed);
    const { drugs, ...before } = baseline;
    expect([performedOn, energy, kept, drugs]).toEqual(['2024-03-01', 'radiofrequency', [], []]);
    expect(new Set([...Object.values(rest), ...Object.values(before)])).toEqual(new Set([null]));
  });

  it('says everything at once, beside the fields', () => {
    const refused = refusalsOf(procedureFormSchema, {
      ...withBaseline({
        afType: 'chronic',
        lvefPct: '12,5',
        laDiameterMm: '4.2',
        bmiKgM2: '25,5',
        copd: 'maybe',
      }),
      performedOn: '1.3.2024',
      operatorId: 'Dr X',
      procedureMinutes: '90',
      fluoroscopyMinutes: '91',
    });
    expect(refused.map(([field]) => field)).toEqual([
      'performedOn',
      'operatorId',
      'baseline.afType',
      'baseline.laDiameterMm',
      'baseline.lvefPct',
      'baseline.bmiKgM2',
      'baseline.copd',
      'fluoroscopyMinutes',
    ]);
  });

  it.each([
    ['permanent', /rhythm control has been given up, which contradicts an ablation/],
    ['Chronic', /no agreed meaning/],
    ['lone', /says nothing about how long/],
  ])('refuses the AF type %j with the reason', (afType, reason) => {
    expect(refusalsOf(procedureFormSchema, withBaseline({ afType }))).toEqual([
      ['baseline.afType', expect.stringMatching(reason)],
    ]);
  });

  it.each(AF_TYPES.map((term) => term.code))('takes the AF type %s', (afType) => {
    expect(procedureFormSchema.parse(withBaseline({ afType })).baseline.afType).toBe(afType);
  });

  it('takes both ends of every possible range, and nothing beyond them', () => {
    const step = (decimals: number) => 10 ** -decimals;
    for (const [name, field] of Object.entries(BASELINE_NUMBERS)) {
      for (const value of [field.min, field.max]) {
        expect(refusalsOf(procedureFormSchema, withBaseline({ [name]: String(value) }))).toEqual([]);
      }
      for (const value of [field.min - step(field.decimals), field.max + step(field.decimals)]) {
        const refused = refusalsOf(
          procedureFormSchema,
          withBaseline({ [name]: value.toFixed(field.decimals) }),
        );
        expect(refused).toEqual([[`baseline.${name}`, expect.stringMatching(/is not possible/)]]);
      }
    }
  });

  it('lets fluoroscopy be as long as the procedure, not longer', () => {
    const times = (procedureMinutes: string, fluoroscopyMinutes: string) =>
      refusalsOf(procedureFormSchema, { ...typed, procedureMinutes, fluoroscopyMinutes });
    expect(times('90', '90')).toEqual([]);
    expect(times('90', '90.01')).toEqual([
      ['fluoroscopyMinutes', expect.stringMatching(/longer than the procedure \(90 min\)/)],
    ]);
    expect(times('', '90')).toEqual([]);
    expect(times('ninety', '90').map(([field]) => field)).toEqual(['procedureMinutes']);
  });

  it('keeps every second of fluoroscopy through the minutes that are shown', () => {
    for (let seconds = 0; seconds <= 86_400; seconds += 1) {
      if (fluoroscopySecondsOf(fluoroscopyMinutesOf(seconds)) !== seconds) expect.fail(`${seconds} s`);
    }
    expect([fluoroscopySecondsOf(12.5), fluoroscopySecondsOf(null), fluoroscopyMinutesOf(null)]).toEqual([
      750,
      null,
      null,
    ]);
  });

  it('accepts what it gave', () => {
    const once = procedureFormSchema.parse({
      ...withBaseline({ afType: 'persistent', lvefPct: '55', bmiKgM2: '27.5', copd: 'no', smoker: 'yes' }),
      ageYears: '66',
      operatorId: '0190b7a8-1111-7000-8000-00000000abcd',
      fluoroscopyMinutes: '12.25',
    });
    expect(procedureFormSchema.parse(JSON.parse(JSON.stringify(once)))).toEqual(once);
  });

  it('has a label for every field', () => {
    const { kept: _reasons, baseline, ...own } = emptyProcedureForm;
    const paths = [...Object.keys(own), ...Object.keys(baseline).map((inner) => `baseline.${inner}`)];
    expect(Object.keys(PROCEDURE_LABELS).sort()).toEqual(paths.sort());
  });

  it('refuses a discharge before the procedure, and a part that is longer than the whole', () => {
    const refused = refusalsOf(procedureFormSchema, {
      ...typed,
      dischargedOn: '2024-02-29',
      procedureMinutes: '100',
      leftAtrialMinutes: '101',
      fluoroscopyMinutes: '100.01',
    });
    expect(refused.map(([field]) => field).sort()).toEqual([
      'dischargedOn',
      'fluoroscopyMinutes',
      'leftAtrialMinutes',
    ]);
    const possible = { dischargedOn: '2024-03-01', procedureMinutes: '100', leftAtrialMinutes: '100' };
    expect(refusalsOf(procedureFormSchema, { ...typed, ...possible, fluoroscopyMinutes: '100' })).toEqual([]);
  });

  it('takes drugs of the list, each once and in its order, and no others', () => {
    const drugs = (chosen: unknown) => procedureFormSchema.safeParse(withBaseline({ drugs: chosen }));
    expect(drugs(['sotalol', 'flecainide', 'sotalol']).data?.baseline.drugs).toEqual([
      'flecainide',
      'sotalol',
    ]);
    expect(drugs(['aspirin']).success).toBe(false);
    expect(drugs(Array.from({ length: 40 }, () => 'sotalol')).success).toBe(false);
  });

  it('is amended with the version seen and a reason', () => {
    expect(refusalsOf(procedureAmendmentSchema, typed).map(([field]) => field)).toEqual([
      'version',
      'reason',
    ]);
    expect(procedureAmendmentSchema.parse({ ...typed, version: 1, reason: 'late-information' }).version).toBe(
      1,
    );
  });

  it('serves the browser unchanged, nested fields included', async () => {
    const resolve = zodResolver(procedureFormSchema);
    const options = { fields: {}, shouldUseNativeValidation: false };
    const refused = await resolve(
      { ...typed, baseline: { ...typed.baseline, lvefPct: '12,5' } },
      undefined,
      options,
    );
    expect(refused.errors).toMatchObject({
      baseline: { lvefPct: { message: expect.stringMatching(/^LVEF: “12,5”/) } },
    });
  });

  it('answers anything at all with findings, never with an exception', () => {
    fc.assert(
      fc.property(
        fc.dictionary(fc.constantFrom(...Object.keys(emptyProcedureForm)), fc.anything()),
        (input) => {
          expect(() => refusalsOf(procedureFormSchema, input)).not.toThrow();
        },
      ),
    );
  });
});

describe('a procedure against its patient', () => {
  const day = calendarDay;
  const base: ProcedureContext = {
    birthYear: 1950,
    today: day('2024-06-15'),
    diedOn: null,
    earlierProcedures: [],
  };
  const check = (input: Record<string, unknown>, context: Partial<ProcedureContext> = {}) =>
    checkProcedureAgainstPatient(procedureFormSchema.parse({ ...typed, ...input }), { ...base, ...context });
  const earlier = [{ ordinal: 1, performedOn: day('2023-01-10') }];

  it('finds nothing in an ordinary case', () => {
    expect(check({ ageYears: '73' })).toEqual([]);
    expect(
      check({ ageYears: '74' }, { earlierProcedures: earlier, nextPerformedOn: day('2024-03-02') }),
    ).toEqual([]);
    expect(check({ performedOn: '2024-06-15' }, { diedOn: day('2024-06-15') })).toEqual([]);
  });

  it.each<[string, string, Record<string, unknown>, Partial<ProcedureContext>]>([
    ['future', 'performedOn', { performedOn: '2024-06-16' }, {}],
    ['after death', 'performedOn', {}, { diedOn: day('2024-02-29') }],
    ['before birth', 'performedOn', { performedOn: '1949-12-31' }, {}],
    [
      'same day as an earlier one',
      'performedOn',
      { performedOn: '2023-01-10' },
      { earlierProcedures: earlier },
    ],
    ['on the day of the next', 'performedOn', {}, { nextPerformedOn: day('2024-03-01') }],
    ['after its own first visit', 'performedOn', {}, { firstDependentOn: day('2024-02-29') }],
    ['age one year too low', 'ageYears', { ageYears: '72' }, {}],
    ['age one year too high', 'ageYears', { ageYears: '75' }, {}],
    ['AF after the procedure', 'baseline.afSinceYear', withBaseline({ afSinceYear: '2025' }), {}],
    ['AF before birth', 'baseline.afSinceYear', withBaseline({ afSinceYear: '1949' }), {}],
  ])('refuses: %s', (_what, field, input, context) => {
    expect(fieldsOf(check(input, context), 'refusal')).toEqual([field]);
  });

  it.each<[string, Record<string, unknown>, Partial<ProcedureContext>]>([
    ['an older procedure entered late', { performedOn: '2023-01-09' }, { earlierProcedures: earlier }],
    ['a day moved behind the next procedure', {}, { nextPerformedOn: day('2024-02-29') }],
  ])('asks whether it is right, because the case numbers follow: %s', (_what, input, context) => {
    const findings = check(input, context);
    expect(fieldsOf(findings, 'refusal')).toEqual([]);
    expect(fieldsOf(findings, 'warning')).toEqual(['performedOn']);
  });
});

describe('usual ranges', () => {
  const warned = (input: Record<string, unknown>) =>
    fieldsOf(warningsOfProcedure(procedureFormSchema.parse({ ...typed, ...input })), 'warning');

  it('question what lies outside, and nothing at their ends', () => {
    const ends = (field: { usualMin?: number; usualMax?: number; decimals: number }) => [
      ...(field.usualMin === undefined
        ? []
        : [[field.usualMin, field.usualMin - 10 ** -field.decimals] as const]),
      ...(field.usualMax === undefined
        ? []
        : [[field.usualMax, field.usualMax + 10 ** -field.decimals] as const]),
    ];
    for (const [name, field] of Object.entries(BASELINE_NUMBERS)) {
      for (const [usual, unusual] of ends(field)) {
        expect(warned(withBaseline({ [name]: usual }))).toEqual([]);
        expect(warned(withBaseline({ [name]: unusual.toFixed(field.decimals) }))).toEqual([
          `baseline.${name}`,
        ]);
      }
    }
    for (const [name, field] of Object.entries(PROCEDURE_NUMBERS)) {
      for (const [usual, unusual] of ends(field)) {
        expect(warned({ [name]: usual })).toEqual([]);
        expect(warned({ [name]: unusual.toFixed(field.decimals) })).toEqual([name]);
      }
    }
  });

  // 2017 consensus, Table 1; three months taken as 91 days, twelve as 365.
  it.each([
    [0, ['paroxysmal']],
    [7, ['paroxysmal']],
    [8, ['early-persistent', 'persistent']],
    [91, ['early-persistent', 'persistent']],
    [92, ['persistent']],
    [365, ['persistent']],
    [366, ['long-standing-persistent']],
  ])('an episode of %i d supports %j', (days, types) => {
    for (const { code } of AF_TYPES) {
      const expected = types.includes(code) ? [] : ['baseline.afType'];
      expect(warned(withBaseline({ afType: code, longestEpisodeDays: days }))).toEqual(expected);
    }
  });

  it('say what was expected', () => {
    const form: ProcedureForm = procedureFormSchema.parse(
      withBaseline({ afType: 'paroxysmal', longestEpisodeDays: 400 }),
    );
    expect(warningsOfProcedure(form)[0]?.message).toBe(
      'AF type: paroxysmal does not fit a longest episode of 400 d (long-standing persistent). Check both, or keep them.',
    );
  });
});
