import { describe, expect, it } from 'vitest';
import { refusal, warning } from '@/lib/registry/findings';
import { keptEntries, keptValuesOf, standingFindings } from '@/lib/registry/forms/kept-values';

const low = warning('baseline.lvefPct', 'LVEF: 12 % is unusually low.');
const long = warning('procedureMinutes', 'Procedure time: 500 min is unusually high.');
const wrong = refusal('performedOn', 'Procedure day: it lies in the future.');

describe('unusual values', () => {
  it('stand in the way until each has a reason; refusals always do', () => {
    expect(standingFindings([low, long, wrong], [])).toEqual([low, long, wrong]);
    const one = [{ field: 'baseline.lvefPct', reason: 'source-checked' as const }];
    expect(standingFindings([low, long, wrong], one)).toEqual([long, wrong]);
    const refused = [...one, { field: 'performedOn', reason: 'true-here' as const }];
    expect(standingFindings([low, wrong], refused)).toEqual([wrong]);
  });

  it('are stored with value and reason, but only while they are unusual', () => {
    const kept = [
      { field: 'baseline.lvefPct', reason: 'measured-again' as const },
      { field: 'baseline.bmiKgM2', reason: 'true-here' as const },
    ];
    expect(keptValuesOf([low], kept, { baseline: { lvefPct: 12, bmiKgM2: 25 } })).toEqual([
      { field: 'baseline.lvefPct', value: '12', reason: 'measured-again' },
    ]);
    expect(keptValuesOf([long], [{ field: 'procedureMinutes', reason: 'true-here' }], {})).toEqual([
      { field: 'procedureMinutes', value: '', reason: 'true-here' },
    ]);
  });

  it('take only reasons of the list', () => {
    expect(keptEntries.parse(undefined)).toEqual([]);
    expect(keptEntries.safeParse([{ field: 'x', reason: 'because' }]).success).toBe(false);
    expect(keptEntries.safeParse([{ field: 'x', reason: 'true-here', note: 'more' }]).success).toBe(false);
  });
});
