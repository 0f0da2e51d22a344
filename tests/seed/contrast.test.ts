import { describe, expect, it } from 'vitest';
import { ENDPOINT_PRESETS } from '@/lib/registry/endpoint-presets';
import { deriveOutcomes, STATUS } from '@/lib/registry/time-to-event';
import type { PatientCourse } from '@/seed/course';
import { coursesOf } from '@/seed/generator';
import { logRiskOf } from '@/seed/hazard';
import truth from '@/seed/truth.json';
import { type LogHazardRatio, oneStepLogHazardRatio, type Subject } from './contrast';
import { cohortOf } from './demo-cohort';
import { demoLab } from './demo-lab';

const { strategy } = truth.hazard.conditionalLogHazardRatio;
const TRUE_RATIO = strategy['wide-with-lines'] - strategy['wide-encircling'];

/** Strata by what only the generator knows: the true risk without the strategy, in steps of 0.25, and calendar time, which monitoring follows. */
const stratumOf = ({ cases: [first] }: PatientCourse): number =>
  Math.floor(logRiskOf(first.risk) / 0.25) + 100 * Math.floor(first.risk.calendarYears / 1.4);

const crude = (subjects: readonly Subject[]) =>
  oneStepLogHazardRatio(subjects.map((subject) => ({ ...subject, stratum: 0 })));
const contains = ({ estimate, standardError }: LogHazardRatio, value: number) =>
  Math.abs(estimate - value) < 1.96 * standardError;

/** Lines against wide encircling in the demo lab, through the path of the Outcomes page: derived strategy, evidence, endpoint. */
function subjectsSeen(): Subject[] {
  const courses = coursesOf();
  const cohort = cohortOf(demoLab());
  const preset = ENDPOINT_PRESETS.find(({ code }) => code === 'on-or-off-drugs');
  if (!preset) throw new Error('no such preset');
  const outcomes = deriveOutcomes(cohort, preset.rules);
  return Array.from(outcomes.caseIndex.subarray(0, outcomes.analysed), (caseIndex, position): Subject[] => {
    const derived = cohort.derivedStrategy.codes[cohort.derivedStrategy.index[caseIndex]];
    if (derived !== 'wide-encircling' && derived !== 'wide-with-lines') return [];
    return [
      {
        group: derived === 'wide-with-lines' ? 1 : 0,
        entry: outcomes.entryDays[position],
        time: outcomes.timeDays[position],
        isEvent: outcomes.status[position] === STATUS.event,
        stratum: stratumOf(courses[cohort.patientIndex[caseIndex]]),
      },
    ];
  }).flat();
}

/** The same pair before detection: true recurrence, followed to two years. */
function subjectsTrue(seed: number): Subject[] {
  return coursesOf(seed).flatMap((course): Subject[] => {
    const { delivered, rhythm, day } = course.cases[0];
    if (delivered !== 'wide-encircling' && delivered !== 'wide-with-lines') return [];
    const time = rhythm.late.firstDay - day;
    return [
      {
        group: delivered === 'wide-with-lines' ? 1 : 0,
        entry: 90,
        time: Math.min(time, 730),
        isEvent: time <= 730,
        stratum: stratumOf(course),
      },
    ];
  });
}

describe('the oracle itself', () => {
  // Two subjects at risk, one event in group 1: O - E = 1 - 1/2, V = 1/4, so the estimate is 2; in group 0 it is -2.
  it('is worked by hand', () => {
    const two = (group: 0 | 1): Subject[] => [
      { group, entry: 0, time: 5, isEvent: true, stratum: 0 },
      { group: group === 1 ? 0 : 1, entry: 0, time: 9, isEvent: false, stratum: 0 },
    ];
    expect(oneStepLogHazardRatio(two(1))).toEqual({ estimate: 2, standardError: 2 });
    expect(oneStepLogHazardRatio(two(0)).estimate).toBe(-2);
  });
});

describe('lines against wide encircling', () => {
  it('misleads when compared crudely and points to the truth when adjusted, as seen in the demo lab', () => {
    const subjects = subjectsSeen();
    expect(subjects.length).toBeGreaterThan(700);
    const [raw, adjusted] = [crude(subjects), oneStepLogHazardRatio(subjects)];
    expect(contains(raw, TRUE_RATIO)).toBe(false);
    expect(contains(raw, 0)).toBe(true);
    expect(contains(adjusted, TRUE_RATIO)).toBe(true);
    expect(contains(adjusted, 0)).toBe(false);
  });

  it('does so in every lab before detection, not only in this one', () => {
    const labs = [21, 22, 23, 24, 25, 26].map((seed) => subjectsTrue(seed));
    const mean = (values: number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
    const adjusted = labs.map((lab) => oneStepLogHazardRatio(lab));
    const error = adjusted[0].standardError / Math.sqrt(labs.length);
    expect(Math.abs(mean(adjusted.map(({ estimate }) => estimate)) - TRUE_RATIO)).toBeLessThan(3 * error);
    expect(mean(labs.map((lab) => crude(lab).estimate)) - TRUE_RATIO).toBeGreaterThan(3 * error);
  });
});
