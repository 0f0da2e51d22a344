import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findingsOfZod } from '@/lib/registry/findings';
import { fieldsOf } from '@/lib/registry/forms/lesion-fields';
import { lesionFormSchema } from '@/lib/registry/forms/lesion-form';
import { LESION_LABELS } from '@/lib/registry/forms/lesion-labels';
import {
  draftElements,
  lesionValuesByPath,
  lesionValuesOf,
  type StoredLesions,
  type TypedElement,
} from '@/lib/registry/forms/lesion-values';
import { blankElement } from '@/lib/registry/lesion-set';
import { STRUCTURES, segmentsOf } from '@/lib/registry/lesion-vocabulary';
import { ABATED, line, ring, USUAL } from './lesion-sets';

const NOTHING: StoredLesions = {
  veins: USUAL,
  measuredInRhythm: null,
  settledStrategy: null,
  entranceBlock: null,
  exitBlock: null,
  waitingMinutes: null,
  drugChallenge: null,
  drugChallengeResult: null,
  elements: [],
};

/** The form with some cells typed: 'left-pair.superior.distanceMm': '12'. */
function typed(cells: Readonly<Record<string, string>>, structure = 'left-pair', segment = 'superior') {
  const values = lesionValuesOf(NOTHING, 3);
  for (const [field, text] of Object.entries(cells)) {
    const element: Record<string, string> = values.elements[structure][segment];
    element[field] = text;
  }
  return values;
}
const refusalsOf = (...given: Parameters<typeof typed>) => {
  const parsed = lesionFormSchema.safeParse(typed(...given));
  return parsed.success ? [] : findingsOfZod(parsed.error);
};
const only = (...given: Parameters<typeof typed>) => {
  const found = refusalsOf(...given);
  expect(found).toHaveLength(1);
  return { field: found[0].field.replace(/^elements\./, ''), message: found[0].message };
};

describe('a segment as typed', () => {
  it('is read whole: amplitudes in microvolt from their digits, distances to tenths', () => {
    const form = lesionFormSchema.parse(
      typed({
        state: 'done',
        distanceMm: '12.5',
        amplitudeBefore: '.8',
        amplitudeAfter: '0.08',
        applications: '3',
        firstPass: 'yes',
      }),
    );
    expect(form.elements[0]).toEqual({
      ...blankElement('left-pair', 'superior'),
      state: 'done',
      distanceMm: 12.5,
      amplitudeBeforeUv: 800,
      amplitudeAfterUv: 80,
      applications: 3,
      firstPass: true,
    });
    expect(form).toMatchObject({ veins: USUAL, version: 3, reason: null });
  });

  it('of which nothing was typed is not stored, unless its ring is: then it is missing, and counted', () => {
    expect(lesionFormSchema.parse(typed({})).elements).toEqual([]);
    const [first, ...rest] = lesionFormSchema.parse(typed({ amplitudeBefore: '0.5' })).elements;
    expect(first).toEqual({ ...blankElement('left-pair', 'superior'), amplitudeBeforeUv: 500 });
    expect(rest).toEqual(
      segmentsOf('left-pair')
        .slice(1)
        .map(({ code }) => blankElement('left-pair', code)),
    );
  });

  it.each<[string, Record<string, string>, string, RegExp]>([
    [
      'distance with a comma',
      { state: 'done', distanceMm: '12,5' },
      'distanceMm',
      /Write a point instead: 12\.5/,
    ],
    [
      'distance finer than a tenth',
      { state: 'done', distanceMm: '12.55' },
      'distanceMm',
      /at most 1 decimal\b/,
    ],
    ['distance beyond the heart', { state: 'done', distanceMm: '61' }, 'distanceMm', /from 0 to 60 mm/],
    ['amplitude in microvolt', { state: 'done', amplitudeAfter: '80' }, 'amplitudeAfter', /write 0\.08/],
    [
      'amplitude finer than a microvolt',
      { state: 'done', amplitudeBefore: '0.0801' },
      'amplitudeBefore',
      /at most 3 decimals/,
    ],
    ['half an application', { state: 'done', applications: '1.5' }, 'applications', /not a whole number/],
    ['an unknown state', { state: 'burnt' }, 'state', /none of the choices/],
    [
      'values without a state',
      { distanceMm: '12', amplitudeAfter: '0.1' },
      'state',
      /from the ostium, after given, but not whether/,
    ],
    [
      'not done, with seconds',
      { state: 'not-done', totalSeconds: '30' },
      'state',
      /not done, and yet seconds in all given/,
    ],
    [
      'not applicable, measured',
      { state: 'not-applicable', stateReason: 'outside-plan', amplitudeBefore: '1' },
      'state',
      /not applicable, and yet before/,
    ],
    ['not applicable without a reason', { state: 'not-applicable' }, 'stateReason', /needs a reason/],
    [
      'not applicable for a reason of leaving',
      { state: 'not-applicable', stateReason: 'near-oesophagus' },
      'stateReason',
      /Choose Not done/,
    ],
    [
      'not done for a reason of absence',
      { state: 'not-done', stateReason: 'outside-plan' },
      'stateReason',
      /Choose Not applicable/,
    ],
    [
      'done, with a reason',
      { state: 'done', stateReason: 'not-reached' },
      'stateReason',
      /Empty it, or change the state/,
    ],
    ['done without an application', { state: 'done', applications: '0' }, 'applications', /at least one/],
    [
      'longest longer than all',
      { state: 'done', totalSeconds: '30', longestSeconds: '40' },
      'longestSeconds',
      /longer than all applications together/,
    ],
    [
      'more seconds than applications can make',
      { state: 'done', applications: '3', totalSeconds: '90', longestSeconds: '20' },
      'totalSeconds',
      /at most 60 s, not 90 s/,
    ],
    ['block of a ring', { state: 'done', block: 'none' }, 'block', /belongs to a line, not a ring/],
  ])('%s is refused at its own field', (_what, cells, field, message) => {
    expect(only(cells)).toEqual({
      field: `left-pair.superior.${field}`,
      message: expect.stringMatching(message),
    });
  });

  it.each<[string, Record<string, string>]>([
    [
      'seconds rounded up from tenths',
      { state: 'done', applications: '3', totalSeconds: '61', longestSeconds: '20' },
    ],
    [
      'not done, with a reason and an amplitude before',
      { state: 'not-done', stateReason: 'near-oesophagus', amplitudeBefore: '0.5' },
    ],
    [
      'not done, found isolated at a repeat',
      { state: 'not-done', reconnected: 'no', stateReason: 'found-isolated' },
    ],
    ['not applicable with its reason', { state: 'not-applicable', stateReason: 'no-such-place' }],
    ['done and nothing else', { state: 'done' }],
  ])('%s is in order', (_what, cells) => {
    expect(refusalsOf(cells)).toEqual([]);
  });

  it('of a line: block needs ablation, and what was found needs saying', () => {
    expect(only({ state: 'not-done', block: 'bidirectional' }, 'roof', 'line').message).toBe(
      'Roof line: not done, and yet block given. There is no block without ablation: choose Done, or empty the other fields.',
    );
    expect(only({ state: 'done', blockTest: 'pacing' }, 'roof', 'line').field).toBe('roof.line.block');
    expect(only({ state: 'done', distanceMm: '5' }, 'roof', 'line').message).toMatch(
      /belongs to a ring, not a line/,
    );
  });

  it('shows all its findings at once, also beside a field that could not be read', () => {
    const found = refusalsOf({ state: 'not-applicable', distanceMm: 'far', amplitudeAfter: '0,1' });
    expect(found.map(({ field }) => field.split('.').at(-1)).sort()).toEqual([
      'amplitudeAfter',
      'distanceMm',
      'state',
      'stateReason',
    ]);
  });
});

describe('the whole form', () => {
  it('names every field with its segment', () => {
    expect(LESION_LABELS['elements.left-pair.anterior-carina.amplitudeAfter']).toBe(
      'Left pair, anterior carina, after',
    );
    expect(LESION_LABELS['elements.roof.line.block']).toBe('Roof line, block');
    for (const path of Object.keys(lesionValuesByPath(NOTHING)))
      expect(LESION_LABELS[path], path).toBeDefined();
  });

  it('refuses a segment, a vein or a field that it does not know', () => {
    const values = lesionValuesOf(NOTHING, 1);
    const unknown = [
      { ...values, veins: { ...values.veins, svc: true } },
      { ...values, elements: { ...values.elements, box: {} } },
      { ...values, elements: { 'left-pair': { nowhere: values.elements.roof.line } } },
      { ...values, elements: { roof: { line: { ...values.elements.roof.line, colour: 'red' } } } },
    ];
    for (const one of unknown) expect(lesionFormSchema.safeParse(one).success).toBe(false);
  });

  it('gives back what is stored, whatever is stored', () => {
    const amplitude = fc.option(fc.integer({ min: 0, max: 20_000 }));
    const ofPlace = fc.record({
      isTyped: fc.boolean(),
      before: amplitude,
      after: amplitude,
      tenths: fc.nat(600),
    });
    // Whole rings, as they are stored: each segment done or not recorded.
    const elements = fc
      .subarray(STRUCTURES.map(({ code }) => code))
      .chain((structures) => fc.tuple(fc.constant(structures), fc.infiniteStream(ofPlace)))
      .map(([structures, stream]) =>
        structures.flatMap((structure) => {
          const drawn = segmentsOf(structure).map(({ code: segment }) => {
            const { isTyped, before, after, tenths } = stream.next().value;
            if (!isTyped) return blankElement(structure, segment);
            return {
              ...blankElement(structure, segment),
              state: 'done',
              distanceMm: segment === 'line' ? null : tenths / 10,
              amplitudeBeforeUv: before,
              amplitudeAfterUv: after,
            };
          });
          return drawn.some(({ state }) => state === 'done') ? drawn : [];
        }),
      );
    const key = ({ structure, segment }: { structure: string; segment: string }) => `${structure} ${segment}`;
    const sorted = <One extends { structure: string; segment: string }>(list: readonly One[]) =>
      [...list].sort((a, b) => key(a).localeCompare(key(b)));
    fc.assert(
      fc.property(elements, (stored) => {
        const values = lesionValuesOf({ ...NOTHING, elements: stored }, 1);
        expect(sorted(lesionFormSchema.parse(values).elements)).toEqual(sorted(stored));
        expect(sorted(draftElements(values.elements))).toEqual(
          sorted(stored.filter(({ state }) => state === 'done')),
        );
      }),
      { numRuns: 60 },
    );
  });

  it('shows a draft of what can be read already', () => {
    const values = typed({ state: 'done', distanceMm: '1x', amplitudeBefore: '1.', amplitudeAfter: '.1' });
    expect(draftElements(values.elements)).toEqual([
      { ...blankElement('left-pair', 'superior'), state: 'done', amplitudeAfterUv: 100 },
    ]);
  });

  it('has values for all that the table shows', () => {
    const element: TypedElement = lesionValuesOf(
      { ...NOTHING, elements: [...ring('lspv', ABATED), line('roof')] },
      1,
    ).elements.lspv.anterior;
    expect(fieldsOf('lspv', true).filter((field) => element[field] !== '')).toEqual([
      'state',
      'distanceMm',
      'amplitudeBefore',
      'amplitudeAfter',
    ]);
    expect(fieldsOf('roof', false)).not.toContain('distanceMm');
    expect(fieldsOf('roof', false)).toContain('block');
    expect(
      [fieldsOf('lspv', true), fieldsOf('lspv', false)].map((fields) => fields.includes('reconnected')),
    ).toEqual([true, false]);
  });
});
