import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { completenessOf, recordedCompleteness } from '@/lib/registry/lesion-completeness';
import { type LesionElement, type LesionSet, shownSet, stateWords } from '@/lib/registry/lesion-set';
import { segmentsOf } from '@/lib/registry/lesion-vocabulary';
import { ABATED, element, line, OPEN, ring, USUAL } from './lesion-sets';

const NOT_DONE: Partial<LesionElement> = { state: 'not-done' };
const NOTHING: Partial<LesionElement> = { state: 'not-recorded' };
const ABSENT: Partial<LesionElement> = { state: 'not-applicable', stateReason: 'outside-plan' };

const set = (elements: readonly LesionElement[], facts: Partial<LesionSet> = {}): LesionSet => ({
  energy: 'radiofrequency',
  veins: USUAL,
  elements,
  ...facts,
});
const of = (structure: string, elements: readonly LesionElement[], facts: Partial<LesionSet> = {}) => {
  const shown = shownSet(set(elements, facts)).find((one) => one.structure === structure);
  if (!shown) throw new Error(`${structure} is not shown`);
  return completenessOf(shown);
};
const left = (except: Parameters<typeof ring>[2]) => of('left-pair', ring('left-pair', ABATED, except));

describe('a ring', () => {
  it('is complete when each segment is abated', () => {
    expect(left({})).toMatchObject({ verdict: 'complete', applicable: 8, closed: 8, open: [], gaps: [] });
    expect(left({}).words).toBe('Left pair: all 8 segments closed, 8 abated.');
  });

  it('lists its open segments and says in words where its gaps are', () => {
    const found = left({ 'anterior-carina': OPEN, inferior: NOTHING, 'postero-inferior': NOT_DONE });
    expect(found.verdict).toBe('incomplete');
    expect(found.open.map(({ segment }) => segment)).toEqual(['anterior-carina']);
    expect(found.words).toBe(
      'Left pair: 5 of 8 segments closed, 5 abated. 2 gaps: anterior carina (still open); inferior to postero-inferior, 2 segments (1 not recorded and 1 not done).',
    );
  });

  it('takes a gap over its top as one', () => {
    const found = left({
      'postero-superior': OPEN,
      superior: OPEN,
      'antero-superior': NOTHING,
      inferior: OPEN,
    });
    expect(found.gaps.map((gap) => gap.segments.map(({ segment }) => segment))).toEqual([
      ['postero-superior', 'superior', 'antero-superior'],
      ['inferior'],
    ]);
  });

  it('that is one gap all round says so', () => {
    expect(of('left-pair', ring('left-pair', OPEN)).words).toBe(
      'Left pair: 0 of 8 segments closed, 0 abated. Gap: the whole ring (still open).',
    );
  });

  it('of which nothing was done is not done, rather than incomplete', () => {
    expect(of('left-pair', ring('left-pair', NOT_DONE))).toMatchObject({ verdict: 'not-done', closed: 0 });
    expect(of('left-pair', ring('left-pair', NOT_DONE, { superior: NOTHING })).verdict).toBe('incomplete');
  });

  it('leaves out what is not applicable, and its neighbours become neighbours', () => {
    const found = left({ inferior: OPEN, 'postero-inferior': ABSENT, 'posterior-carina': OPEN });
    expect(found).toMatchObject({ applicable: 7, closed: 5 });
    expect(found.gaps).toHaveLength(1);
    expect(found.words).toMatch(
      /inferior to posterior carina, 2 segments \(still open\)\. 1 not applicable\.$/,
    );
    expect(of('left-pair', ring('left-pair', ABSENT))).toMatchObject({
      verdict: 'not-applicable',
      words: 'Left pair: no segment is applicable.',
    });
  });

  it('counts a segment that was done but has no amplitude afterwards as not recorded', () => {
    expect(left({ superior: { amplitudeBeforeUv: 800 } }).words).toMatch(/Gap: superior \(not recorded\)\.$/);
  });

  it('is done but unjudged where electrograms cannot tell', () => {
    const low = left({ superior: { amplitudeBeforeUv: 99, amplitudeAfterUv: 10 } });
    expect(low).toMatchObject({ verdict: 'unjudged', closed: 8, gaps: [] });
    expect(low.words).toMatch(/7 abated and 1 done and not to be judged by its electrogram/);
    const pulsed = of('left-pair', ring('left-pair', ABATED, { inferior: NOT_DONE }), {
      energy: 'pulsed-field',
    });
    expect(pulsed).toMatchObject({ verdict: 'incomplete', closed: 7 });
  });

  it('counts as closed what a repeat found still isolated and left alone', () => {
    const held: Partial<LesionElement> = { state: 'not-done', reconnected: false };
    const found = of('left-pair', ring('left-pair', held, { superior: { ...ABATED, reconnected: true } }));
    expect(found).toMatchObject({ verdict: 'complete', closed: 8 });
    expect(found.words).toBe('Left pair: all 8 segments closed, 1 abated and 7 found still isolated.');
  });

  it.each(['left-pair', 'lspv'])(
    '%s: gaps hold each gap segment once, and no two gaps touch',
    (structure) => {
      const segments = segmentsOf(structure).map(({ code }) => code);
      const states = fc.array(fc.constantFrom(ABATED, OPEN, NOT_DONE, NOTHING, ABSENT), {
        minLength: segments.length,
        maxLength: segments.length,
      });
      fc.assert(
        fc.property(states, (drawn) => {
          const elements = segments.map((code, i) => element(structure, code, drawn[i]));
          const { gaps, applicable, closed } = of(structure, elements);
          const inGaps = gaps.flatMap((gap) => gap.segments.map(({ segment }) => segment));
          expect(inGaps).toHaveLength(applicable - closed);
          expect(new Set(inGaps).size).toBe(inGaps.length);
          const round = segments.filter((_, i) => drawn[i] !== ABSENT);
          for (const gap of gaps) {
            if (gap.segments.length === round.length) continue;
            const next = (segment: string, step: number) =>
              round[(round.indexOf(segment) + step + round.length) % round.length];
            const names = gap.segments.map(({ segment }) => segment);
            expect(inGaps).not.toContain(next(names[0], -1));
            expect(inGaps).not.toContain(next(names[names.length - 1], 1));
            for (let i = 1; i < names.length; i += 1) expect(next(names[i - 1], 1)).toBe(names[i]);
          }
        }),
      );
    },
  );
});

describe('a line', () => {
  it.each([
    [{ block: 'bidirectional' }, 'complete', 'Roof line: done. Block in both directions.'],
    [{ block: 'one-way' }, 'incomplete', 'Roof line: done. One way only.'],
    [{ block: 'none' }, 'incomplete', 'Roof line: done. No block.'],
    [{ block: null }, 'incomplete', 'Roof line: done. Whether it blocks is not recorded.'],
    [{ block: null, ...ABATED }, 'incomplete', 'Roof line: done. Whether it blocks is not recorded.'],
    [NOT_DONE, 'not-done', 'Roof line: not done.'],
    [ABSENT, 'not-applicable', 'Roof line: not applicable: outside the plan.'],
  ])('%j is %s', (facts, verdict, words) => {
    expect(of('roof', [line('roof', facts)])).toMatchObject({ verdict, words });
  });

  it('is judged by block whatever the energy', () => {
    expect(of('roof', [line('roof', { block: 'bidirectional' })], { energy: 'cryo-focal' }).verdict).toBe(
      'complete',
    );
  });
});

describe('a set', () => {
  it('shows every ring and line of its anatomy, and what is stored besides', () => {
    const structures = (elements: readonly LesionElement[], veins = USUAL) =>
      shownSet(set(elements, { veins })).map(({ structure }) => structure);
    expect(structures([])).toHaveLength(12);
    expect(structures([], [])).toEqual(structures([]));
    expect(structures([], ['lcpv', 'rspv', 'ripv'])).not.toContain('carina-left');
    const absent = [line('carina-left', { state: 'not-applicable', stateReason: 'common-ostium' })];
    expect(structures(absent, ['lcpv', 'rspv', 'ripv'])).toContain('carina-left');
  });

  it('takes part by what is recorded of it', () => {
    const shown = shownSet(
      set([...ring('left-pair'), element('right-pair', 'superior', NOTHING), line('roof')]),
    );
    expect(recordedCompleteness(shown).map(({ structure }) => structure.structure)).toEqual([
      'left-pair',
      'roof',
    ]);
  });

  it('names each state in words of its own', () => {
    const words = (facts: Partial<LesionElement>, structure = 'left-pair', energy = 'radiofrequency') => {
      const [first] = shownSet(set([element(structure, segmentsOf(structure)[0].code, facts)], { energy }))
        .filter((one) => one.structure === structure)
        .flatMap(({ segments }) => segments);
      return stateWords(first);
    };
    expect([
      words(ABATED),
      words(OPEN),
      words({}),
      words(NOTHING),
      words(NOT_DONE),
      words(ABSENT),
      words(ABATED, 'left-pair', 'laser'),
      words({ state: 'not-done', reconnected: false }),
      words({ block: 'bidirectional' }, 'roof'),
    ]).toEqual([
      'abated',
      'still open',
      'not recorded',
      'not recorded',
      'not done',
      'not applicable',
      'done, not judged',
      'not done, still isolated',
      'blocked both ways',
    ]);
  });
});
