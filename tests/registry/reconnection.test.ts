import { describe, expect, it } from 'vitest';
import type { LesionElement } from '@/lib/registry/lesion-set';
import { reconnectionsAt, reconnectionsOf, unexplainedReconnections } from '@/lib/registry/reconnection';
import { ABATED, element, line, ring } from './lesion-sets';

const first = (elements: readonly LesionElement[]) => ({ ordinal: 1, performedOn: '2022-05-01', elements });
const HELD: Partial<LesionElement> = { state: 'not-done', reconnected: false };
const BACK: Partial<LesionElement> = { ...ABATED, reconnected: true };

describe('what had become of an earlier lesion set', () => {
  it('is told by segment and by vein', () => {
    const now = [
      ...ring('left-pair', HELD, { superior: BACK, 'anterior-carina': BACK, inferior: { ...ABATED } }),
      line('roof', { reconnected: true }),
    ];
    const [report] = reconnectionsOf(now, [
      first([...ring('left-pair'), line('roof'), line('floor', { state: 'not-done' })]),
    ]);
    expect(report.reconnectedNames).toEqual(['left pair', 'roof line']);
    expect(report.words).toBe(
      'Reconnected: left pair and roof line. Of 9 places done then, 3 had reconnected (left pair superior, left pair anterior carina and roof line), 5 held and 1 not recorded.',
    );
  });

  it('says when nothing had reconnected, and what nobody looked at', () => {
    const [held, untold] = [HELD, {}].map(
      (facts) => reconnectionsOf(ring('lspv', facts), [first(ring('lspv'))])[0].words,
    );
    expect(held).toBe('Of 4 places done then, none is recorded as reconnected, 4 held.');
    expect(untold).toBe('Of 4 places done then, none is recorded as reconnected, 0 held and 4 not recorded.');
  });

  it('finds the vein again when the ring round it is another one now', () => {
    const [report] = reconnectionsOf([element('lspv', 'anterior', BACK)], [first(ring('left-pair'))]);
    expect(report.reconnectedNames).toEqual(['left superior vein']);
    expect(report.segments.every(({ found }) => found === 'not-recorded')).toBe(true);
    expect(
      reconnectionsOf([element('rspv', 'anterior', BACK)], [first(ring('left-pair'))])[0].reconnectedNames,
    ).toEqual([]);
  });

  it('is told for each earlier set apart, and not for one in which nothing was done', () => {
    const second = { ordinal: 2, performedOn: '2023-05-01', elements: ring('right-pair', { ...ABATED }) };
    const empty = { ordinal: 3, performedOn: '2024-05-01', elements: ring('lspv', { state: 'not-done' }) };
    const reports = reconnectionsOf(ring('right-pair', HELD), [first(ring('left-pair')), second, empty]);
    expect(reports.map(({ earlier, segments }) => [earlier.ordinal, segments[0].found])).toEqual([
      [1, 'not-recorded'],
      [2, 'held'],
    ]);
  });

  it('is told as far as it is known: nothing at a first procedure, only what was found where no set is recorded', () => {
    const now = [element('ripv', 'superior', BACK)];
    expect(reconnectionsAt(1, now, [])).toEqual({ kind: 'first', reports: [] });
    expect(reconnectionsAt(2, now, [first([])])).toMatchObject({
      kind: 'unknown',
      words: 'No earlier lesion set is recorded by segments; reconnected: right inferior vein.',
    });
    expect(reconnectionsAt(2, [], [])).toMatchObject({
      words: expect.stringMatching(/nothing is recorded as reconnected/),
    });
    expect(reconnectionsAt(2, now, [first(ring('ripv'))])).toMatchObject({ kind: 'known', reports: [{}] });
  });

  it('knows a reconnection that no earlier set explains', () => {
    const now = [
      element('lspv', 'anterior', BACK),
      element('ripv', 'superior', BACK),
      element('rspv', 'superior', ABATED),
    ];
    expect(unexplainedReconnections(now, [first(ring('left-pair'))])).toEqual([now[1]]);
    expect(unexplainedReconnections(now, [])).toEqual([now[0], now[1]]);
  });
});
