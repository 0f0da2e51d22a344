import { describe, expect, it } from 'vitest';
import { timelinesOf } from '@/lib/registry/patient-history';
import { gradeOfRecording } from '@/lib/registry/rhythm-evidence';
import { missingShareAt } from '@/seed/baseline';
import { LAST_DAY } from '@/seed/calendar';
import { coursesOf } from '@/seed/generator';
import { COMPLICATION_RATES, complicationProbability, PLANTED_RISE, QUIET_CONTROL } from '@/seed/harm';
import { COMPARED, DELIVERED, DETECTION, LABELS, type Missable, RECURRENCE } from '@/seed/parameters';
import { historyOf } from './demo-cohort';
import { demoLab } from './demo-lab';

const labs = [11, 12, 13, 14, 15].flatMap((seed) => coursesOf(seed));
const cases = labs.flatMap((course) => course.cases.map((one) => ({ course, one })));
const firsts = cases.filter(({ one }) => one.ordinal === 1);

/** Standard score of a count of independent events with the given probabilities. */
function score(probabilities: readonly number[], happened: number): number {
  const expected = probabilities.reduce((sum, p) => sum + p, 0);
  const variance = probabilities.reduce((sum, p) => sum + p * (1 - p), 0);
  return (happened - expected) / Math.sqrt(variance);
}
/** |z| < 4.2 fails about once in 40,000 by chance; the seeds are fixed, so it fails always or never. */
const agrees = (probabilities: readonly number[], happened: number) =>
  expect(Math.abs(score(probabilities, happened))).toBeLessThan(4.2);
const share = (probability: number, outcomes: readonly boolean[]) =>
  agrees(
    outcomes.map(() => probability),
    outcomes.filter(Boolean).length,
  );

describe('complications', () => {
  // Cases whose windows are open may still have theirs: those are left out.
  const closed = cases.filter(({ one }) => one.day < LAST_DAY - 90);

  it.each(COMPLICATION_RATES)('$type happens at its rate', (entry) => {
    const happened = closed.filter(({ one }) => one.complications.some(({ type }) => type === entry.type));
    agrees(
      closed.map(({ one }) => complicationProbability(entry, one.delivered, one.day)),
      happened.length,
    );
  });

  it('plants the rise: odds of haematoma are tripled from the first day on, tamponade never changes', () => {
    const entry = COMPLICATION_RATES.find(({ type }) => type === PLANTED_RISE.type);
    const control = COMPLICATION_RATES.find(({ type }) => type === QUIET_CONTROL.type);
    if (!entry || !control) throw new Error('no rate');
    const odds = (p: number) => p / (1 - p);
    const [before, after] = [PLANTED_RISE.firstDay - 1, PLANTED_RISE.firstDay].map((day) =>
      complicationProbability(entry, 'wide-encircling', day),
    );
    expect(odds(after) / odds(before)).toBeCloseTo(PLANTED_RISE.oddsRatio, 12);
    const all = [0, PLANTED_RISE.firstDay, LAST_DAY].flatMap((day) =>
      DELIVERED.map((delivered) => complicationProbability(control, delivered, day)),
    );
    expect(new Set(all).size).toBe(1);
  });
});

describe('labels and strategies', () => {
  it.each(COMPARED)('delivers what the label %s says as often as written', (label) => {
    const row: Partial<Record<string, number>> = LABELS.delivered[label];
    const own = firsts.filter(({ one }) => one.intended === label);
    expect(own.length).toBeGreaterThan(300);
    for (const delivered of DELIVERED) {
      const expected = row[delivered] ?? 0;
      const happened = own.filter(({ one }) => one.delivered === delivered).length;
      if (expected === 0 || expected === 1) expect(happened).toBe(expected * own.length);
      else
        agrees(
          own.map(() => expected),
          happened,
        );
    }
  });

  it('derives from the lesions what was delivered, but for the share that is not derivable', () => {
    const courses = coursesOf();
    const derived = demoLab().map((entry, index) => ({
      derived: timelinesOf(historyOf(entry))[0].derivedStrategy,
      delivered: courses[index].cases[0].delivered,
    }));
    const rf = derived.filter(({ delivered }) => delivered !== 'single-shot');
    share(
      LABELS.notDerivable,
      rf.map((one) => one.derived === 'not-derivable'),
    );
    expect(derived.filter((one) => one.derived !== one.delivered && one.derived !== 'not-derivable')).toEqual(
      [],
    );
  });
});

describe('rhythm and detection', () => {
  it('splits causes, forms and early recurrences as written', () => {
    for (const code of DELIVERED) {
      const own = firsts.filter(({ one }) => one.delivered === code);
      share(
        RECURRENCE.atAflShare[code],
        own.map(({ one }) => one.rhythm.late.rhythm !== 'af'),
      );
    }
    share(
      RECURRENCE.sustainedShare,
      firsts.map(({ one }) => one.rhythm.late.sustained),
    );
    share(
      DETECTION.symptomDriven.share,
      firsts.map(({ one }) => one.rhythm.late.presentsOn !== null),
    );
    const isSoon = (late: number, day: number) => late - day <= 455;
    for (const [soon, expected] of [
      [true, RECURRENCE.earlyShare.withLate],
      [false, RECURRENCE.earlyShare.withoutLate],
    ] as const) {
      const own = firsts.filter(({ one }) => isSoon(one.rhythm.late.firstDay, one.day) === soon);
      share(
        expected,
        own.map(({ one }) => one.rhythm.early !== null),
      );
    }
  });

  it('finds an intermittent recurrence with the sensitivity of the grade, and nothing where nothing is', () => {
    const found: Record<string, boolean[]> = {};
    for (const { one } of cases) {
      const { early, late } = one.rhythm;
      for (const recording of one.contacts.flatMap(({ recordings }) => recordings)) {
        const { finding, startDay, endDay } = recording;
        const isEarly = early !== null && early.firstDay <= endDay && early.lastDay >= startDay;
        const isLate = late.firstDay <= endDay;
        if (!isEarly && !isLate) expect(finding.isRecurrence).toBe(false);
        if (recording.symptomDriven || isEarly || !isLate || late.sustained) continue;
        const grade = gradeOfRecording(recording.kind, recording.minutes);
        found[grade] = [...(found[grade] ?? []), finding.isRecurrence];
      }
    }
    const { intermittent } = DETECTION.sensitivity;
    for (const grade of ['ecg', '24h', '7d', '14d', 'continuous'] as const) {
      expect(found[grade].length).toBeGreaterThan(50);
      share(intermittent[grade], found[grade]);
    }
  });

  it('shows a recurrence only on days on which it is there', () => {
    for (const { one } of cases) {
      const spans = [one.rhythm.late, ...(one.rhythm.early ? [one.rhythm.early] : [])];
      for (const { finding, startDay } of one.contacts.flatMap(({ recordings }) => recordings)) {
        if (!finding.isRecurrence) continue;
        const day = finding.episodeStartDay ?? startDay;
        expect(spans.some(({ firstDay, lastDay }) => firstDay <= day && day <= lastDay)).toBe(true);
      }
      if (one.detectedOn !== null) expect(one.detectedOn).toBeGreaterThan(one.day + RECURRENCE.blankingDays);
    }
  });
});

describe('missing values', () => {
  const lab = demoLab();
  const courses = coursesOf();
  const fields: Missable[] = [
    'afType',
    'laDiameterMm',
    'lvefPct',
    'structuralHeartDisease',
    'bmiKgM2',
    'egfrMlMin173m2',
  ];

  it.each(fields)('%s is missing as often as written', (field) => {
    const rows = lab.flatMap(({ baselines }, index) =>
      baselines.map((baseline, at) => ({ baseline, day: courses[index].cases[at].day })),
    );
    agrees(
      rows.map(({ day }) => missingShareAt(field, day)),
      rows.filter(({ baseline }) =>
        Object.entries(baseline).some(([key, value]) => key === field && value === null),
      ).length,
    );
  });
});
