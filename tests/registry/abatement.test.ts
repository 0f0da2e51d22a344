import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { abatementOf, isLongApplication, segmentStateOf } from '@/lib/registry/abatement';
import { ELEMENT_STATES, SEGMENT_STATES } from '@/lib/registry/lesion-vocabulary';

const RF = 'radiofrequency';

describe('abatement', () => {
  // The first three rows are the check values of common practice (no source); the others are the edges of the rule.
  it.each([
    ['0.80 to 0.08 mV: exactly 90 % is not more than 90 %, but below 0.1 mV', 800, 80, 'abated', false, true],
    ['2.00 to 0.15 mV: 92.5 % less, not below 0.1 mV', 2000, 150, 'abated', true, false],
    ['0.80 to 0.20 mV: neither', 800, 200, 'open', false, false],
    ['1.00 to 0.10 mV: exactly 90 % and exactly 0.1 mV meet nothing', 1000, 100, 'open', false, false],
    ['1.01 to 0.10 mV: 90.1 % less', 1010, 100, 'abated', true, false],
    ['1.001 to 0.100 mV: one microvolt more than 90 %', 1001, 100, 'abated', true, false],
    ['1.00 to 0.099 mV: both', 1000, 99, 'abated', true, true],
    ['0.10 before is assessable', 100, 99, 'abated', false, true],
    ['0.10 to 0.10 mV', 100, 100, 'open', false, false],
    ['to nothing at all', 500, 0, 'abated', true, true],
    ['higher than before', 500, 900, 'open', false, false],
    ['0.12 to 0.099 mV: reduced by little, but below 0.1 mV', 120, 99, 'abated', false, true],
    ['before missing: amplitude alone, met', null, 99, 'abated', null, true],
    ['before missing: amplitude alone, not met', null, 100, 'open', null, false],
    ['low before', 99, 10, 'not-assessable', null, null],
    ['nothing before', 0, 0, 'not-assessable', null, null],
    ['low before, after missing', 99, null, 'not-assessable', null, null],
    ['after missing', 800, null, 'not-recorded', null, null],
    ['both missing', null, null, 'not-recorded', null, null],
  ] as const)('%s', (_rule, beforeUv, afterUv, verdict, reductionMet, amplitudeMet) => {
    expect(abatementOf(RF, beforeUv, afterUv)).toMatchObject({ verdict, reductionMet, amplitudeMet });
  });

  it('says why in words', () => {
    expect(abatementOf(RF, 1000, 99).reason).toBe('Abated: reduced by more than 90 % and below 0.1 mV.');
    expect(abatementOf(RF, 99, 10).reason).toBe('Low before, not assessable.');
    expect(abatementOf(RF, null, 300).reason).toMatch(/^Open: .* judged by the amplitude alone\.$/);
  });

  it.each(['pulsed-field', 'cryo-balloon', 'cryo-focal', 'laser', 'other', null])(
    'is not judged for %s',
    (energy) => {
      expect(abatementOf(energy, 2000, 10)).toMatchObject({ verdict: 'not-assessable', reductionMet: null });
    },
  );

  it('agrees with the percentage wherever floating point can tell', () => {
    const amplitude = fc.integer({ min: 100, max: 20_000 });
    fc.assert(
      fc.property(amplitude, fc.integer({ min: 0, max: 20_000 }), (beforeUv, afterUv) => {
        const reduced = 1 - afterUv / beforeUv;
        fc.pre(Math.abs(reduced - 0.9) > 1e-9);
        expect(abatementOf(RF, beforeUv, afterUv).verdict === 'abated').toBe(reduced > 0.9 || afterUv < 100);
      }),
    );
  });

  it('never turns from abated to open when less is left', () => {
    const uv = fc.integer({ min: 0, max: 20_000 });
    fc.assert(
      fc.property(fc.integer({ min: 100, max: 20_000 }), uv, uv, (beforeUv, one, other) => {
        const [less, more] = [Math.min(one, other), Math.max(one, other)];
        if (abatementOf(RF, beforeUv, more).verdict === 'abated') {
          expect(abatementOf(RF, beforeUv, less).verdict).toBe('abated');
        }
      }),
    );
  });
});

describe('the state in which a segment is shown', () => {
  const element = { state: 'done', stateReason: null, amplitudeBeforeUv: 800, amplitudeAfterUv: 80 };

  it.each([
    [RF, element, 'abated', /^Done\. Abated/],
    [RF, { ...element, amplitudeAfterUv: 200 }, 'still-open', /^Done\. Open/],
    [RF, { ...element, amplitudeAfterUv: null }, 'not-recorded', /afterwards is not recorded/],
    [RF, { ...element, amplitudeBeforeUv: 50 }, 'not-applicable', /Low before, not assessable/],
    ['laser', element, 'not-applicable', /radiofrequency only/],
    [RF, { ...element, state: 'not-done' }, 'not-done', /^Not done/],
    [RF, { ...element, state: 'not-recorded' }, 'not-recorded', /^Not recorded/],
    [
      RF,
      { ...element, state: 'not-applicable', stateReason: 'common ostium' },
      'not-applicable',
      /^common ostium$/,
    ],
  ])('%s %j is %s', (energy, measured, state, reason) => {
    const shown = segmentStateOf(energy, measured);
    expect(shown.state).toBe(state);
    expect(shown.reason).toMatch(reason);
  });

  it('is always one of the five, for every stored state', () => {
    const known: string[] = SEGMENT_STATES.map((term) => term.code);
    for (const { code } of ELEMENT_STATES)
      expect(known).toContain(segmentStateOf(RF, { ...element, state: code }).state);
  });
});

describe('a long application', () => {
  it.each([
    [RF, 60, false],
    [RF, 61, true],
    [RF, null, false],
    ['cryo-balloon', 240, false],
  ])('%s %s s: %s', (energy, seconds, isLong) => {
    expect(isLongApplication(energy, seconds)).toBe(isLong);
  });
});
