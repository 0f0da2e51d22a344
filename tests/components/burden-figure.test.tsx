import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import { BurdenFigure } from '@/components/charts/burden-figure';
import { WatchedSlotTable } from '@/components/registry/watched-slot-table';
import { burdenView } from '@/lib/analysis/follow-up/burden';
import { addDays, calendarDay } from '@/lib/registry/calendar-day';
import type { DeviceDay } from '@/lib/registry/device-days';

const START = calendarDay('2024-01-01');
const days = Array.from({ length: 200 }, (_, index): DeviceDay => {
  const burdenSeconds = index % 50 === 20 ? 7200 : 0;
  return { day: addDays(START, index), device: 'pacemaker', burdenSeconds, longestEpisodeSeconds: null };
});
const view = burdenView({
  days,
  performedOn: START,
  procedures: [{ ordinal: 1, performedOn: START }],
  daysToNext: null,
});
if (!view) throw new Error('no view');
const markup = renderToStaticMarkup(<BurdenFigure view={view} />);

describe('the burden figure', () => {
  it('is a picture with a name and its numbers in one sentence, wide and narrow', () => {
    expect(markup.match(/role="img"/g)).toHaveLength(2);
    expect(markup).toContain(`<desc id="burden-wide-sentence">${view.sentence}</desc>`);
    expect(markup).toMatch(/aria-labelledby="burden-narrow-title" aria-describedby="burden-narrow-sentence"/);
    expect(view.sentence).toContain('arrhythmia on 4 of them');
  });

  it('has its days as tables, each line of the model once', () => {
    const rows = markup.match(/<tr>/g) ?? [];
    // Two head rows.
    expect(rows).toHaveLength(2 + view.periods.length + view.lines.length);
    expect(markup).toContain('not given: at most 2 h');
  });

  it('marks in words what a colour shows: strips are labelled', () => {
    for (const label of ['days with arrhythmia', 'days recorded', 'procedure 1'])
      expect(markup).toContain(label);
  });
});

describe('the table of evidence', () => {
  it('says what is needed, what there is and whether it is enough, in words', () => {
    const table = renderToStaticMarkup(
      <WatchedSlotTable
        slots={[
          {
            code: 'month-12',
            label: 'Visit, 12 months',
            opensOn: calendarDay('2024-11-01'),
            closesOn: calendarDay('2025-03-01'),
            needed: '24h',
            grade: 'ecg',
            verdict: 'short',
          },
        ]}
      />,
    );
    for (const words of [
      'Visit, 12 months',
      '2024-11-01 to 2025-03-01',
      '>ECG<',
      '>24 h<',
      'less than needed',
    ]) {
      expect(table).toContain(words);
    }
  });
});
