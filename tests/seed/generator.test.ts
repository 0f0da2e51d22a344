import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { addDays, calendarDay, daysBetween, isCalendarDay } from '@/lib/registry/calendar-day';
import { firstMonday } from '@/seed/calendar';
import { coursesOf, demoPatients } from '@/seed/generator';
import { areAllOnWorkingDays } from '@/seed/observed';
import { ANCHOR, demoLab, PEOPLE } from './demo-lab';

const lab = demoLab();
const sha256 = (text: string) => createHash('sha256').update(text).digest('hex');
const count = (rows: (patient: (typeof lab)[number]) => readonly unknown[]) =>
  lab.reduce((sum, patient) => sum + rows(patient).length, 0);

/** Dates become days since the lab's first Monday; years, which follow from dates, are left out. */
function withoutAnchor(patients: typeof lab, anchor: typeof ANCHOR): string {
  const first = firstMonday(anchor);
  return JSON.stringify(patients, (key, value: unknown) => {
    if (key === 'birthYear' || key === 'afSinceYear') return undefined;
    return typeof value === 'string' && isCalendarDay(value) ? daysBetween(first, value) : value;
  });
}

describe('the demo lab', () => {
  it('is the same to the byte for the same seed, and another for another', () => {
    const again = sha256(JSON.stringify(demoLab()));
    expect(again).toBe(sha256(JSON.stringify(lab)));
    const other = demoPatients({ seed: 5, anchor: ANCHOR, people: PEOPLE, patients: 50 });
    const same = demoPatients({ seed: 6, anchor: ANCHOR, people: PEOPLE, patients: 50 });
    expect(sha256(JSON.stringify(other))).not.toBe(sha256(JSON.stringify(same)));
  });

  it.each(['2026-11-26', '2027-03-01', '2031-07-13'])('moves its dates and nothing else at %s', (text) => {
    const anchor = calendarDay(text);
    expect(sha256(withoutAnchor(demoLab(anchor), anchor))).toBe(sha256(withoutAnchor(lab, ANCHOR)));
  });

  it('begins on a Monday and ends on the Sunday on or before the anchor day', () => {
    for (let shift = 0; shift < 14; shift += 1) {
      const anchor = addDays(ANCHOR, shift);
      const first = firstMonday(anchor);
      expect(new Date(`${first}T00:00:00Z`).getUTCDay()).toBe(1);
      const last = addDays(first, 365 * 7 - 1);
      expect(daysBetween(last, anchor)).toBeGreaterThanOrEqual(0);
      expect(daysBetween(last, anchor)).toBeLessThan(7);
    }
  });

  it('has the size it should have', () => {
    expect(lab).toHaveLength(1400);
    const ranges: [number, number, number][] = [
      [count(({ procedures }) => procedures), 1650, 1850],
      [count(({ lesionElements }) => lesionElements), 30_000, 38_000],
      [count(({ visits }) => visits), 12_000, 15_000],
      [count(({ recordings }) => recordings), 8500, 12_000],
      [count(({ complications }) => complications), 120, 230],
      [count(({ readmissions }) => readmissions), 40, 110],
      [
        count(({ complications }) => complications.filter(({ adjudicatedVerdict }) => adjudicatedVerdict)),
        100,
        200,
      ],
      [
        count(({ complications }) =>
          complications.filter(({ adjudicatedVerdict: verdict }) => verdict && verdict !== 'confirmed'),
        ),
        4,
        30,
      ],
      [count(({ drugEpisodes }) => drugEpisodes), 2400, 3300],
      [count(({ cardioversions }) => cardioversions), 90, 230],
      [lab.filter(({ patient }) => patient.diedOn).length, 15, 70],
    ];
    for (const [actual, low, high] of ranges) {
      expect(actual).toBeGreaterThanOrEqual(low);
      expect(actual).toBeLessThanOrEqual(high);
    }
  });

  it('works from Monday to Friday, never two procedures of one patient on a day', () => {
    const courses = coursesOf();
    expect(areAllOnWorkingDays(courses)).toBe(true);
    for (const { cases } of courses) {
      const days = cases.map(({ day }) => day);
      expect([...days].sort((a, b) => a - b)).toEqual(days);
      expect(new Set(days).size).toBe(days.length);
    }
  });

  it('ends with the anchor: nothing happens later, and the newest cases are unfinished', () => {
    const days = lab.flatMap((patient) => [
      ...patient.procedures.map(({ performedOn }) => performedOn),
      ...patient.visits.map(({ visitedOn }) => visitedOn),
      ...patient.recordings.map(({ endedOn }) => endedOn),
      ...patient.drugEpisodes.flatMap(({ startedOn, stoppedOn }) => [startedOn, stoppedOn ?? startedOn]),
      ...patient.cardioversions.map(({ performedOn }) => performedOn),
      ...patient.readmissions.flatMap(({ admittedOn, dischargedOn }) => [
        admittedOn,
        dischargedOn ?? admittedOn,
      ]),
      ...patient.complications.flatMap(({ onsetOn, resolvedOn }) => [onsetOn, resolvedOn ?? onsetOn]),
    ]);
    expect(days.every((day) => day <= ANCHOR)).toBe(true);
    const recent = lab.flatMap(({ procedures, visits }) =>
      procedures
        .filter(({ performedOn }) => daysBetween(performedOn, ANCHOR) < 60)
        .map(
          ({ id }) =>
            visits.filter((visit) => visit.procedureId === id && visit.slot.startsWith('month')).length,
        ),
    );
    expect(recent.length).toBeGreaterThan(15);
    expect(recent.every((visits) => visits === 0)).toBe(true);
  });

  it('gives every row an id of its own and every patient a code of their own', () => {
    const ids = lab.flatMap((entry) => [
      entry.patient.id,
      ...[entry.procedures, entry.lesionElements, entry.complications, entry.readmissions, entry.visits]
        .flat()
        .map(({ id }) => id),
      ...[entry.recordings, entry.drugEpisodes, entry.cardioversions].flat().map(({ id }) => id),
    ]);
    expect(new Set(ids).size).toBe(ids.length);
    expect(
      ids.every((id) => /^[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/.test(id)),
    ).toBe(true);
    expect(new Set(lab.map(({ patient }) => patient.code)).size).toBe(lab.length);
  });
});
