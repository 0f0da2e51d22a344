import { describe, expect, it } from 'vitest';
import type { ELEMENT_FIELDS } from '@/lib/registry/forms/lesion-fields';
import {
  commonValue,
  fillDown,
  fillRest,
  fillRing,
  fillsOfState,
  type RingRow,
  ringTakers,
  stateOfTyping,
} from '@/lib/registry/forms/lesion-fill';
import { lesionValuesOf, type TypedElement } from '@/lib/registry/forms/lesion-values';

const BLANK: TypedElement = lesionValuesOf(
  {
    veins: [],
    measuredInRhythm: null,
    settledStrategy: null,
    entranceBlock: null,
    exitBlock: null,
    waitingMinutes: null,
    drugChallenge: null,
    drugChallengeResult: null,
    elements: [],
  },
  1,
).elements.roof.line;
const SEGMENTS = ['superior', 'anterior', 'inferior', 'posterior'];
const ring = (...rows: Partial<TypedElement>[]): RingRow =>
  SEGMENTS.map((segment, i) => ({ segment, typed: { ...BLANK, ...rows[i] } }));
const filled = (fills: ReturnType<typeof fillRing>) =>
  fills.map(({ segment, value }) => `${segment}=${value}`);

const ringFill = (rows: RingRow, field: (typeof ELEMENT_FIELDS)[number], before: string, value: string) =>
  fillRing(rows, field, ringTakers(rows, field, before), value);

describe('the whole ring as planned, except ...', () => {
  it('goes to every segment that was not set differently', () => {
    const rows = ring({}, { distanceMm: '9' }, { distanceMm: '12' }, {});
    expect(filled(ringFill(rows, 'distanceMm', '12', '14'))).toEqual([
      'superior=14',
      'inferior=14',
      'posterior=14',
    ]);
    expect(filled(ringFill(rows, 'distanceMm', '', '14'))).toEqual(['superior=14', 'posterior=14']);
  });

  it('taken back takes back what it gave, and leaves the exceptions', () => {
    const rows = ring({ distanceMm: '12' }, { distanceMm: '9' }, { distanceMm: '12' }, {});
    expect(filled(ringFill(rows, 'distanceMm', '12', ''))).toEqual(['superior=', 'inferior=']);
  });

  it('typed figure by figure goes to the segments it began with: an exception that the text passes by stays', () => {
    const rows = ring({}, { distanceMm: '1' }, {}, {});
    const takers = ringTakers(rows, 'distanceMm', '');
    expect(takers).toEqual(['superior', 'inferior', 'posterior']);
    const after = ring({ distanceMm: '1' }, { distanceMm: '1' }, { distanceMm: '1' }, { distanceMm: '1' });
    expect(filled(fillRing(after, 'distanceMm', takers, '12'))).toEqual([
      'superior=12',
      'inferior=12',
      'posterior=12',
    ]);
  });

  it('said again changes nothing', () => {
    const rows = ring(...SEGMENTS.map(() => ({ distanceMm: '12' })));
    expect(ringFill(rows, 'distanceMm', '12', '12')).toEqual([]);
  });

  it('passes over segments that were left out, but for what may be measured there', () => {
    const rows = ring({ state: 'not-done' }, { state: 'not-applicable' }, { state: 'done' }, {});
    expect(filled(ringFill(rows, 'distanceMm', '', '12'))).toEqual(['inferior=12', 'posterior=12']);
    expect(filled(ringFill(rows, 'amplitudeBefore', '', '1'))).toHaveLength(4);
    expect(filled(ringFill(rows, 'state', '', 'done'))).toEqual(['posterior=done']);
  });

  it('shows in its own row what all segments share', () => {
    expect(commonValue(ring(...SEGMENTS.map(() => ({ distanceMm: '12' }))), 'distanceMm')).toBe('12');
    expect(commonValue(ring({ distanceMm: '12' }), 'distanceMm')).toBe('');
    expect(commonValue(ring(), 'distanceMm')).toBe('');
    expect(commonValue([], 'distanceMm')).toBe('');
  });
});

describe('fill down', () => {
  it('fills the empty cells below and overwrites nothing', () => {
    const rows = ring({ applications: '1' }, { applications: '3' }, { applications: '5' }, {});
    expect(filled(fillDown(rows, 'applications', 'anterior'))).toEqual(['posterior=3']);
    expect(filled(fillDown(rows, 'distanceMm', 'superior'))).toEqual([]);
    expect(filled(fillDown(rows, 'applications', 'posterior'))).toEqual([]);
    expect(filled(fillDown(rows, 'applications', 'nowhere'))).toEqual([]);
  });

  it('passes over segments that were left out', () => {
    const rows = ring({ applications: '2' }, { state: 'not-done' }, {}, { state: 'not-applicable' });
    expect(filled(fillDown(rows, 'applications', 'superior'))).toEqual(['inferior=2']);
  });
});

describe('the rest of the ring like one segment', () => {
  it('fills what is empty with all that stands there, and overwrites nothing', () => {
    const rows = ring({ state: 'done', distanceMm: '12' }, { distanceMm: '9' }, { state: 'not-done' }, {});
    const fills = fillRest(rows, 'superior').map(
      ({ segment, field, value }) => `${segment} ${field} ${value}`,
    );
    expect(fills).toEqual(['anterior state done', 'posterior state done', 'posterior distanceMm 12']);
    expect(fillRest(rows, 'nowhere')).toEqual([]);
  });

  it('takes a reason along only where the state comes along', () => {
    const rows = ring({ state: 'not-done', stateReason: 'not-reached' }, { state: 'done' }, {}, {});
    expect(
      fillRest(rows, 'superior')
        .filter(({ field }) => field === 'stateReason')
        .map(({ segment }) => segment),
    ).toEqual(['inferior', 'posterior']);
  });
});

describe('the state of a row', () => {
  it('becomes done by typing what only ablation gives, and by nothing else', () => {
    const typing = (field: (typeof ELEMENT_FIELDS)[number], value: string, state = '') =>
      stateOfTyping({ ...BLANK, state }, field, value);
    expect(typing('distanceMm', '12')).toBe('done');
    expect(typing('block', 'none')).toBe('done');
    expect(typing('distanceMm', ' ')).toBeNull();
    expect(typing('amplitudeBefore', '1')).toBeNull();
    expect(typing('reconnected', 'no')).toBeNull();
    expect(typing('distanceMm', '12', 'not-done')).toBeNull();
  });

  it('left out loses what came with the plan of the ring, and keeps what was typed for itself', () => {
    const row = { ...BLANK, state: 'done', distanceMm: '12', applications: '4', amplitudeBefore: '1' };
    const plan = { distanceMm: '12', applications: '2', amplitudeBefore: '1' };
    expect(fillsOfState('superior', row, plan, 'not-done')).toEqual([
      { segment: 'superior', field: 'distanceMm', value: '' },
    ]);
    expect(fillsOfState('superior', row, plan, 'done')).toEqual([]);
  });

  it('changed takes its old reason with it', () => {
    const row = { ...BLANK, state: 'not-done', stateReason: 'not-reached' };
    expect(fillsOfState('superior', row, {}, 'done')).toEqual([
      { segment: 'superior', field: 'stateReason', value: '' },
    ]);
    expect(fillsOfState('superior', row, {}, 'not-done')).toEqual([]);
  });
});
