import type { ReactElement } from 'react';
import { renderToStaticMarkup as render } from 'react-dom/server';
import { expect, it } from 'vitest';
import { MoveCountTable, MoveTable } from '@/components/registry/schedule-moves-tables';
import { ScheduleTable } from '@/components/registry/schedule-table';
import { ScheduleVersionTable } from '@/components/registry/schedule-version-table';
import { WorklistTable } from '@/components/registry/worklist-table';
import { calendarDay } from '@/lib/registry/calendar-day';
import { DEFAULT_SLOTS, planOf, type ScheduleSlot, slotOf } from '@/lib/registry/follow-up-schedule';
import { linesOfSchedule } from '@/lib/registry/schedule-differences';
import { countMoves, keyOfMove, scheduleMoves } from '@/lib/registry/schedule-moves';
import type { FollowUpSchedule } from '@/lib/registry/schedule-versions';
import { scheduleStates } from '@/lib/registry/schedule-words';
import { type FollowedCase, slotStatesOf } from '@/lib/registry/worklist';

const PERFORMED = calendarDay('2024-01-10');
const rowsOf = (element: ReactElement): string[] =>
  [...render(element).matchAll(/<tr[^>]*>(.*?)<\/tr>/gs)].map(([, row]) =>
    (row ?? '')
      .replace(/<[^>]+>/g, '|')
      .replace(/\|+/g, '|')
      .replace(/^\||\|$/g, ''),
  );
const visit = (amount: number, change: Partial<ScheduleSlot> = {}): ScheduleSlot =>
  slotOf({
    kind: 'visit',
    due: { unit: 'months', amount },
    windowBeforeDays: 14,
    windowAfterDays: 45,
    evidence: 'ecg',
    ...change,
  });
const version = (
  strategy: string | null,
  versionNumber: number,
  effectiveOn: string | null,
  slots: readonly ScheduleSlot[] = [visit(3)],
): FollowUpSchedule => ({
  strategy,
  versionNumber,
  effectiveOn: effectiveOn === null ? null : calendarDay(effectiveOn),
  slots,
});

it('a schedule is a table of contacts; against the one before it says of each what differs', () => {
  expect(
    rowsOf(<ScheduleTable caption="Contacts" lines={linesOfSchedule([visit(3), visit(24)], null)} />),
  ).toEqual([
    'Contact|Window|Evidence needed',
    'Visit, 3 months|14 days before to 45 after|ECG',
    'Visit, 2 years|14 days before to 45 after|ECG',
  ]);
  const before = [visit(3), visit(6), visit(9), visit(12)];
  const after = [
    visit(3),
    visit(6, { windowBeforeDays: 0, windowAfterDays: 0, evidence: '7d' }),
    visit(10, { windowBeforeDays: 1 }),
    visit(12, { kind: 'safety-call', label: 'Safety call, 12 months' }),
  ];
  expect(
    rowsOf(<ScheduleTable caption="Contacts" lines={linesOfSchedule(after, before)} />).slice(1),
  ).toEqual([
    'Visit, 3 months|14 days before to 45 after|ECG|as before',
    'Visit, 6 months|on the day|7 days|window was 14 days before to 45 after; needed ECG',
    'Visit, 9 months|14 days before to 45 after|ECG|dropped',
    'Visit, 10 months|1 day before to 45 after|ECG|new',
    'Safety call, 12 months|14 days before to 45 after|ECG|was Visit, 12 months',
  ]);
});

it('each version leads to its page and says from when, by whom, and what a strategy goes back to', () => {
  const rows = rowsOf(
    <ScheduleVersionTable
      versions={[
        {
          ...version('single-shot', 2, '2026-12-10', []),
          id: 'b',
          madeAt: '2026-12-01T08:00:00Z',
          madeBy: 'D-01',
        },
        { ...version(null, 1, null), id: 'a', madeAt: '2026-01-01T08:00:00Z', madeBy: null },
      ]}
    />,
  );
  expect(rows.slice(1)).toEqual([
    'Version 2 for single-shot|2026-12-10|as for all|2026-12-01 by D-01',
    'Version 1 for all strategies|from the beginning|1|2026-01-01, with the lab',
  ]);
});

it('what holds today and what is to come are told apart, the schedule for all first', () => {
  const schedules = [
    version('ostial', 1, '2026-12-20'),
    version(null, 1, null),
    version(null, 2, '2026-12-01'),
    version(null, 3, '2026-12-02'),
    version('mixed', 1, '2026-11-01'),
  ];
  const states = scheduleStates(schedules, '2026-12-01').map(({ strategy, current, coming }) => [
    strategy,
    current?.versionNumber ?? null,
    coming?.versionNumber ?? null,
  ]);
  expect(states).toEqual([
    [null, 2, 3],
    ['ostial', null, 1],
    ['mixed', 1, null],
  ]);
});

const followed = (caseCode: string): FollowedCase => ({
  procedureId: `id-${caseCode}`,
  caseCode,
  performedOn: PERFORMED,
  plan: [],
  visits: [],
  recordings: [],
  diedOn: null,
  consentWithdrawnOn: null,
  transferredOn: null,
  nextPerformedOn: null,
});

it('every count of what moves opens its cases, and every case shows its days before and after', () => {
  const before = [version(null, 1, null, [visit(3), visit(9), visit(12), visit(18)])];
  const slots = [visit(3, { windowAfterDays: 60 }), visit(10), visit(12, { evidence: '24h' }), visit(24)];
  const after = [...before, version(null, 2, '2024-02-01', slots)];
  const cases = ['A/1', 'B/1'].map((code) => ({ strategy: null, followed: followed(code) }));
  const moves = scheduleMoves(cases, before, after, PERFORMED);
  const counts = countMoves(moves);
  const markup = <MoveCountTable counts={counts} hrefOf={(key) => `/list?show=${key}`} />;
  expect(rowsOf(markup).slice(1)).toEqual([
    'Added: Visit, 2 years|2|, opens the cases of: Added: Visit, 2 years',
    'Dropped: Visit, 18 months|2|, opens the cases of: Dropped: Visit, 18 months',
    'Moved: Visit, 9 months to Visit, 10 months|2|, opens the cases of: Moved: Visit, 9 months to Visit, 10 months',
    'Window changed: Visit, 3 months|14 days before to 45 after; then 14 days before to 60 after|2|, opens the cases of: Window changed: Visit, 3 months',
    'Evidence changed: Visit, 12 months|ECG to 24 h|2|, opens the cases of: Evidence changed: Visit, 12 months',
  ]);
  for (const count of counts) expect(render(markup)).toContain(`href="/list?show=${keyOfMove(count)}"`);
  const moved = moves.filter(({ change }) => change === 'moved' || change === 'added');
  expect(rowsOf(<MoveTable caption="Moved" moves={moved.slice(0, 2)} />).slice(1)).toEqual([
    'A/1|2024-10-10 (2024-09-26 to 2024-11-24)|2024-11-10 (2024-10-27 to 2024-12-25)',
    'A/1|none|2026-01-10 (2025-12-27 to 2026-02-24)',
  ]);
});

it('a window that only opens later says so', () => {
  const before = [version(null, 1, null, [visit(3)])];
  const wide = visit(3, { windowBeforeDays: 60 });
  // Month 3 opened on 2024-03-27; made wider it would be open since 2024-02-10, and opens with the version.
  const middle = [...before, version(null, 2, '2024-02-20', [wide])];
  const after = [...before, version(null, 2, '2024-03-01', [wide])];
  const moves = scheduleMoves([{ strategy: null, followed: followed('A/1') }], middle, after, PERFORMED);
  expect(rowsOf(<MoveCountTable counts={countMoves(moves)} hrefOf={String} />)[1]).toContain(
    'opens when the version takes effect',
  );
});

it('a visit that lacks its recording says so, and leads to the visit; a contact to a new one', () => {
  const plan = planOf(
    PERFORMED,
    DEFAULT_SLOTS.filter(({ code }) => code === 'month-3' || code === 'day-90'),
  );
  const items = slotStatesOf(
    { ...followed('A/1'), plan, visits: [{ id: 'visit-1', slot: 'month-3' }] },
    calendarDay('2024-04-10'),
  );
  const markup = render(<WorklistTable caption="List" items={items} mayEnter />);
  expect(markup).toContain('href="/cases/id-A/1/visits/visit-1"');
  expect(markup).toContain('href="/cases/id-A/1/visits/new?slot=day-90"');
  const rows = rowsOf(<WorklistTable caption="List" items={items} mayEnter />);
  expect(rows.find((row) => row.includes('3 months'))).toMatch(
    /^A\/1\|Visit, 3 months\|seen; recording awaited\|.*Add it/,
  );
  expect(rows.find((row) => row.includes('day 90'))).toMatch(
    /^A\/1\|Safety call, day 90\|2024-04-09\|.*Enter/,
  );
});
