import { describe, expect, it } from 'vitest';
import { checkLesionsAgainstCase, type LesionContext } from '@/lib/registry/forms/lesion-checks';
import { type LesionForm, lesionFormSchema } from '@/lib/registry/forms/lesion-form';
import { lesionValuesOf } from '@/lib/registry/forms/lesion-values';
import { sortVeins } from '@/lib/registry/lesion-anatomy';
import { ABATED, element, line, ring, USUAL } from './lesion-sets';

const CASE: LesionContext = {
  ordinal: 1,
  energy: 'radiofrequency',
  deviceType: null,
  intendedStrategy: 'wide-encircling',
  needsReason: false,
  earlier: [],
};
const EMPTY: LesionForm = lesionFormSchema.parse(
  lesionValuesOf(
    {
      veins: USUAL,
      measuredInRhythm: 'sinus',
      settledStrategy: null,
      entranceBlock: 'all',
      exitBlock: null,
      waitingMinutes: 20,
      drugChallenge: null,
      drugChallengeResult: null,
      elements: [],
    },
    1,
  ),
);
const check = (form: Partial<LesionForm>, context: Partial<LesionContext> = {}) =>
  checkLesionsAgainstCase({ ...EMPTY, ...form }, { ...CASE, ...context });
const paths = (...given: Parameters<typeof check>) =>
  check(...given).map(({ field, kind }) => `${kind} ${field.replace(/^elements\./, '')}`);
const one = (facts: Parameters<typeof element>[2], structure = 'left-pair', segment = 'superior') => [
  element(structure, segment, facts),
];

describe('a lesion set against its case', () => {
  it('is in order where nothing speaks against it', () => {
    expect(
      check({ elements: [...ring('left-pair'), ...ring('right-pair'), line('roof', { block: 'none' })] }),
    ).toEqual([]);
  });

  it('needs a reason once a set is stored', () => {
    expect(paths({}, { needsReason: true })).toEqual(['refusal reason']);
    expect(paths({ reason: 'late-information' }, { needsReason: true })).toEqual([]);
  });

  it.each([
    ['a segment of a vein that this anatomy lacks', ring('rmpv'), USUAL, 4],
    ['a left pair beside a common ostium', one({}), ['lcpv', 'rspv', 'ripv'], 1],
    ['a carina line beside a common ostium', [line('carina-left')], ['lcpv', 'rspv', 'ripv'], 1],
    ['the same, not done', [line('carina-left', { state: 'not-done' })], ['lcpv', 'rspv', 'ripv'], 1],
    [
      'the same, not applicable: that is right',
      [line('carina-left', { state: 'not-applicable', stateReason: 'common-ostium' })],
      ['lcpv', 'rspv', 'ripv'],
      0,
    ],
    ['a middle vein of the usual anatomy, no veins recorded', ring('rmpv'), [], 4],
  ])('%s', (_what, elements, veins, refusals) => {
    const found = check({ elements, veins: sortVeins(veins) });
    expect(found.filter(({ kind }) => kind === 'refusal')).toHaveLength(refusals);
    for (const { message } of found)
      expect(message).toMatch(/Empty it, call it not applicable, or change the veins\.$/);
  });

  it('refuses veins that contradict each other', () => {
    expect(paths({ veins: ['lspv', 'lcpv', 'rspv', 'ripv'] })).toEqual(['refusal veins']);
  });

  it('refuses a reconnection at a first procedure, and questions one that nothing explains', () => {
    const elements = one({ ...ABATED, reconnected: true });
    expect(paths({ elements })).toEqual(['refusal left-pair.superior.reconnected']);
    expect(paths({ elements }, { ordinal: 2 })).toEqual(['warning left-pair.superior.reconnected']);
    const earlier = [{ ordinal: 1, performedOn: '2022-01-01', elements: ring('left-pair') }];
    expect(paths({ elements }, { ordinal: 2, earlier })).toEqual([]);
  });

  it.each([
    ['longer than 60 s: a flag of the page', { longestSeconds: 61, totalSeconds: 61 }, []],
    ['farther than 20 mm', { distanceMm: 20.1 }, ['warning left-pair.superior.distanceMm']],
    ['20 mm', { distanceMm: 20 }, []],
    ['a very high amplitude', { amplitudeBeforeUv: 10_001 }, ['warning left-pair.superior.amplitudeBefore']],
    [
      'more after than before',
      { amplitudeBeforeUv: 500, amplitudeAfterUv: 501 },
      ['warning left-pair.superior.amplitudeAfter'],
    ],
    ['as much after as before', { amplitudeBeforeUv: 500, amplitudeAfterUv: 500 }, []],
    ['very many applications', { applications: 61 }, ['warning left-pair.superior.applications']],
    ['very many seconds', { totalSeconds: 2401 }, ['warning left-pair.superior.totalSeconds']],
  ])('%s: a question, never a block', (_what, facts, expected) => {
    expect(paths({ elements: one(facts) })).toEqual(expected);
  });

  it('questions a pair that is ringed and its veins ringed by themselves', () => {
    expect(paths({ elements: [...ring('left-pair'), ...ring('lspv')] })).toEqual([
      'warning lspv.superior.state',
    ]);
  });

  it.each<[string, Partial<LesionForm>, string[]]>([
    ['a result without a drug', { drugChallengeResult: 'closed' }, ['refusal drugChallengeResult']],
    [
      'a result of no drug',
      { drugChallenge: 'none', drugChallengeResult: 'left' },
      ['refusal drugChallengeResult'],
    ],
    ['a drug and its result', { drugChallenge: 'both', drugChallengeResult: 'left' }, []],
    ['exit block without entrance block', { entranceBlock: 'some', exitBlock: 'all' }, ['warning exitBlock']],
    ['waiting for hours', { waitingMinutes: 91 }, ['warning waitingMinutes']],
  ])('%s', (_what, form, expected) => {
    expect(paths(form)).toEqual(expected);
  });

  it('settles on the label or on the lesions; anything else is questioned', () => {
    const elements = [...ring('left-pair'), ...ring('right-pair'), line('roof', { block: 'bidirectional' })];
    expect(paths({ elements, settledStrategy: 'wide-with-lines' })).toEqual([]);
    expect(paths({ elements, settledStrategy: 'wide-encircling' })).toEqual([]);
    expect(paths({ elements, settledStrategy: 'ostial' })).toEqual(['warning settledStrategy']);
  });
});
