import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { burdenView } from '@/lib/analysis/follow-up/burden';
import type { BurdenDrawing } from '@/lib/analysis/follow-up/burden-model';
import { textWidth } from '@/lib/analysis/outcomes/text-width';
import { addDays, calendarDay } from '@/lib/registry/calendar-day';
import type { DeviceDay } from '@/lib/registry/device-days';

const START = calendarDay('2024-01-01');
const device = (day: number, burdenSeconds = 0, longestEpisodeSeconds: number | null = null): DeviceDay => ({
  day: addDays(START, day),
  device: 'implanted-monitor',
  burdenSeconds,
  longestEpisodeSeconds,
});
const quiet = (from: number, to: number) =>
  Array.from({ length: to - from + 1 }, (_, index) => device(from + index));
const viewOf = (days: readonly DeviceDay[], daysToNext: number | null = null) => {
  const view = burdenView({
    days,
    performedOn: START,
    procedures: [
      { ordinal: 1, performedOn: START },
      ...(daysToNext === null ? [] : [{ ordinal: 2, performedOn: addDays(START, daysToNext) }]),
    ],
    daysToNext,
  });
  if (!view) throw new Error('no view');
  return view;
};

describe('the burden of one case', () => {
  it('is nothing without a device day', () => {
    expect(burdenView({ days: [], performedOn: START, procedures: [], daysToNext: null })).toBeUndefined();
  });

  it('is told in one sentence', () => {
    // 40 + 200 of 241 days recorded (day 40 missing); 0.25 + 0.5 days of arrhythmia in 240 recorded ones: 0.3125 %.
    const days = [...quiet(0, 39), device(41, 21_600, 600), device(42, 43_200), ...quiet(43, 240)];
    expect(viewOf(days).sentence).toBe(
      'Recorded on 240 of 241 days (day 0 to 240); arrhythmia on 2 of them, 0.3\u2009% of the recorded time, most on day 42 (50.0\u2009%).',
    );
    expect(viewOf(quiet(-5, 4)).sentence).toBe(
      'Recorded on 10 of 10 days (day \u22125 to 4), and no arrhythmia on any of them.',
    );
  });

  it('never rounds what was there to nothing', () => {
    expect(viewOf([...quiet(0, 9), device(10, 30, 30)]).lines.at(-1)?.burden).toBe('under 0.1\u2009% (30 s)');
  });

  it('is compared with a baseline of a month or longer only', () => {
    // A tenth of each of 30 days before; a fortieth of each of 10 days after blanking: 75 % less.
    const before = Array.from({ length: 30 }, (_, i) => device(i - 30, 8640));
    const after = Array.from({ length: 10 }, (_, i) => device(100 + i, 2160));
    expect(viewOf([...before, ...quiet(0, 4), ...after]).periods).toEqual([
      {
        label: 'Before the procedure',
        recorded: '30',
        withArrhythmia: '30',
        burden: '10.0\u2009%',
        change: 'baseline',
      },
      {
        label: 'Day 0 to 90',
        recorded: '5',
        withArrhythmia: '0',
        burden: '0.0\u2009%',
        change: '\u2212100\u2009%',
      },
      {
        label: 'Day 91 to 365',
        recorded: '10',
        withArrhythmia: '10',
        burden: '2.5\u2009%',
        change: '\u221275\u2009%',
      },
    ]);
    const [, short] = viewOf([...before.slice(1), ...quiet(0, 4)]).periods;
    expect(short?.change).toBe('no baseline of 30 days');
  });

  it('ends its periods before the next procedure', () => {
    const periods = viewOf(quiet(0, 500), 200).periods;
    expect(periods.map(({ label, recorded }) => [label, recorded])).toEqual([
      ['Day 0 to 90', '91'],
      ['Day 91 to 365', '109'],
    ]);
  });

  it('tells every day once in its table, runs without arrhythmia together', () => {
    const view = viewOf([...quiet(-3, 4), device(5, 5400, 700), device(6, 5400), ...quiet(8, 9)]);
    expect(view.lines.map(({ days, longest }) => [days, longest])).toEqual([
      ['\u22123 to \u22121', ''],
      ['0 to 4', ''],
      ['5', '12 min'],
      ['6', 'not given: at most 1 h 30 min'],
      ['8 to 9', ''],
    ]);
    expect(view.caption.join(' ')).toContain('at most the burden');
  });
});

describe('the drawing', () => {
  const anyDays = fc
    .uniqueArray(fc.tuple(fc.integer({ min: -400, max: 1500 }), fc.constantFrom(0, 0, 0, 30, 4000, 86_400)), {
      minLength: 1,
      maxLength: 60,
      selector: ([day]) => day,
    })
    .map((days) => days.map(([day, burden]) => device(day, burden)));
  const bothOf = (days: readonly DeviceDay[]): BurdenDrawing[] => {
    const { drawings } = viewOf(days, 300);
    return [drawings.wide, drawings.narrow];
  };

  it('has one bar per day with arrhythmia, as high as its burden', () => {
    const { wide } = viewOf([...quiet(0, 99), device(100, 43_200)]).drawings;
    expect(wide.bars.match(/M/g)).toHaveLength(1);
    expect(Number(/V([\d.]+)h/.exec(wide.bars)?.[1])).toBeCloseTo((wide.plot.top + wide.plot.bottom) / 2, 1);
  });

  it('stays within its sheet, and its labels never touch', () => {
    fc.assert(
      fc.property(anyDays, (days) => {
        for (const drawing of bothOf(days)) {
          const { width, height, fontSize, recordedStrip, anyStrip } = drawing;
          for (const { x, width: w } of [...recordedStrip.parts, ...anyStrip.parts]) {
            expect(x).toBeGreaterThanOrEqual(drawing.plot.left - 0.01);
            expect(x + w).toBeLessThanOrEqual(width);
          }
          expect(recordedStrip.y + 10).toBeLessThanOrEqual(height);
          const names = drawing.procedures.flatMap(({ label }) => (label.text ? [label] : []));
          expect(names.every(({ x, text }) => x + textWidth(text, fontSize) <= width)).toBe(true);
          const ends = drawing.days.map(({ x, text }) => [
            x - textWidth(text, fontSize) / 2,
            x + textWidth(text, fontSize) / 2,
          ]);
          for (let i = 1; i < ends.length; i += 1) expect(ends[i][0]).toBeGreaterThan(ends[i - 1][1]);
        }
      }),
      { numRuns: 300, seed: 20_261_204 },
    );
  });
});
