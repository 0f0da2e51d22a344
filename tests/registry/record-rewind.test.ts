import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BrokenTrail, type RecordRow, rewind, type TrailChange } from '@/lib/registry/record-rewind';

const row = (entityId: string, value: number): RecordRow => ({
  entity: 'baselines',
  entityId,
  row: { lvefPct: value },
});
const change = (entityId: string, before: number | null, after: number | null): TrailChange => ({
  entity: 'baselines',
  entityId,
  before: before === null ? null : { lvefPct: before },
  after: after === null ? null : { lvefPct: after },
});

describe('taking changes back', () => {
  it('gives the row before a change, none before an entry, and again what was taken away', () => {
    const now = [row('a', 3), row('b', 9)];
    const changes = [change('a', null, 1), change('c', null, 5), change('a', 1, 3), change('c', 5, null)];
    expect(rewind(now, changes.slice(3))).toEqual([row('a', 3), row('b', 9), row('c', 5)]);
    expect(rewind(now, changes.slice(2))).toEqual([row('a', 1), row('b', 9), row('c', 5)]);
    expect(rewind(now, changes)).toEqual([row('b', 9)]);
    expect(rewind(now, [])).toEqual(now);
  });

  it('refuses a change that did not leave what is there', () => {
    expect(() => rewind([row('a', 4)], [change('a', 1, 3)])).toThrow(BrokenTrail);
    expect(() => rewind([], [change('a', 1, 3)])).toThrow(BrokenTrail);
    expect(() => rewind([row('a', 3)], [change('a', 3, null)])).toThrow(BrokenTrail);
  });

  it('takes a column that came later, an empty list and a day that follows its parent for no difference', () => {
    const now: RecordRow = {
      entity: 'complications',
      entityId: 'x',
      row: { type: 'tia', harms: [], cause: null, procedurePerformedOn: '2024-01-02' },
    };
    const then: TrailChange = {
      entity: 'complications',
      entityId: 'x',
      before: null,
      after: { type: 'tia', procedurePerformedOn: '2024-01-01' },
    };
    expect(rewind([now], [then])).toEqual([]);
  });

  it('undoes any history of edits, step by step', () => {
    const step = fc.record({ id: fc.constantFrom('a', 'b', 'c'), value: fc.option(fc.nat(5)) });
    fc.assert(
      fc.property(fc.array(step, { maxLength: 20 }), (steps) => {
        const record = new Map<string, number>();
        const states: RecordRow[][] = [];
        const changes: TrailChange[] = [];
        const rows = () => [...record].map(([id, value]) => row(id, value)).sort(byId);
        for (const { id, value } of steps) {
          const before = record.get(id) ?? null;
          if (before === value) continue;
          states.push(rows());
          changes.push(change(id, before, value));
          if (value === null) record.delete(id);
          else record.set(id, value);
        }
        states.forEach((state, index) => {
          expect([...rewind(rows(), changes.slice(index))].sort(byId)).toEqual(state);
        });
      }),
    );
  });
});

const byId = (a: RecordRow, b: RecordRow): number => a.entityId.localeCompare(b.entityId);
