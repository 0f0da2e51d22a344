import { afterEach, describe, expect, it } from 'vitest';
import { todayText, useClock } from '@/lib/runtime/clock';

const restore: (() => void)[] = [];
afterEach(() => {
  for (const undo of restore.splice(0)) undo();
  delete process.env.AFTERBEAT_TIME_ZONE;
});

const at = (instant: string, zone: string) => {
  restore.push(useClock({ now: () => new Date(instant) }));
  process.env.AFTERBEAT_TIME_ZONE = zone;
  return todayText();
};

/** Offsets are those of the IANA database: Auckland UTC+13 in January, Honolulu UTC-10, Kathmandu UTC+5:45. */
describe('today', () => {
  it.each([
    ['2026-01-31T12:00:00Z', 'Pacific/Auckland', '2026-02-01'],
    ['2026-01-31T10:59:59Z', 'Pacific/Auckland', '2026-01-31'],
    ['2026-02-01T09:59:59Z', 'Pacific/Honolulu', '2026-01-31'],
    ['2026-02-01T10:00:00Z', 'Pacific/Honolulu', '2026-02-01'],
    ['2025-12-31T18:14:59Z', 'Asia/Kathmandu', '2025-12-31'],
    ['2025-12-31T18:15:00Z', 'Asia/Kathmandu', '2026-01-01'],
    ['2024-02-29T23:59:59Z', 'UTC', '2024-02-29'],
  ])('at %s in %s is %s', (instant, zone, day) => {
    expect(at(instant, zone)).toBe(day);
  });

  it('without a named zone is the machine’s day', () => {
    restore.push(useClock({ now: () => new Date('2025-12-31T18:30:00Z') }));
    // The suite runs in Asia/Kathmandu.
    expect(todayText()).toBe('2026-01-01');
  });
});
