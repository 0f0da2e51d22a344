import { isWorkingDay } from './calendar';
import type { CaseCourse, PatientCourse } from './course';
import { coursesOf } from './generator';
import { RECURRENCE } from './parameters';
import { rounded } from './truth';

/** What a lab sees of the truth, averaged over whole simulated labs. */
export interface ObservedTruth {
  readonly labs: number;
  /** Of true recurrences before the lab's last day, death, or leaving: share that some recording showed. */
  readonly detected: number;
  /** Of the detected: share whose first evidence came from a contact that symptoms brought about. */
  readonly firstSeenBySymptoms: number;
  readonly medianDelayDays: number;
  readonly proceduresPerLab: number;
  readonly recordingsPerLab: number;
  readonly deathsPerLab: number;
  readonly leftFollowUpPerLab: number;
}

/** Runs whole labs, from admission to detection. */
export function simulateObserved(labs: number, seed: number): ObservedTruth {
  const courses = Array.from({ length: labs }, (_, lab) => coursesOf(seed + 1 + lab)).flat();
  const firsts = courses.map((course) => ({ course, first: course.cases[0] }));
  const recurred = firsts.filter(({ course, first }) => first.rhythm.late.firstDay <= course.until);
  const delays = recurred
    .flatMap(({ first }) =>
      first.detectedOn === null ? [] : [first.detectedOn - first.rhythm.late.firstDay],
    )
    .sort((a, b) => a - b);
  const bySymptoms = recurred.filter(({ first }) => firstPositiveSlot(first) === 'unscheduled');
  const perLab = (count: (course: PatientCourse) => number) =>
    rounded(courses.reduce((sum, course) => sum + count(course), 0) / labs);
  return {
    labs,
    detected: rounded(delays.length / recurred.length),
    firstSeenBySymptoms: rounded(bySymptoms.length / delays.length),
    medianDelayDays: delays[Math.floor(delays.length / 2)],
    proceduresPerLab: perLab(({ cases }) => cases.length),
    recordingsPerLab: perLab(({ cases }) =>
      cases.reduce(
        (sum, one) => sum + one.contacts.reduce((n, contact) => n + contact.recordings.length, 0),
        0,
      ),
    ),
    deathsPerLab: perLab(({ diedOn }) => (diedOn === null ? 0 : 1)),
    leftFollowUpPerLab: perLab(({ transferredOn, withdrawnOn }) =>
      transferredOn === null && withdrawnOn === null ? 0 : 1,
    ),
  };
}

/** The slot of the contact whose recording first showed a recurrence after blanking; null when none did. */
function firstPositiveSlot(one: CaseCourse): string | null {
  if (one.detectedOn === null) return null;
  const blankedThrough = one.day + RECURRENCE.blankingDays;
  const positives = one.contacts.flatMap((contact) =>
    contact.recordings
      .filter(({ finding }) => finding.isRecurrence)
      .map(({ startDay, finding }) => ({ slot: contact.slot, day: finding.episodeStartDay ?? startDay }))
      .filter(({ day }) => day > blankedThrough),
  );
  return positives.find(({ day }) => day === one.detectedOn)?.slot ?? null;
}

/** Procedures are done from Monday to Friday: used by the tests. */
export const areAllOnWorkingDays = (courses: readonly PatientCourse[]): boolean =>
  courses.every(({ cases }) => cases.every(({ day }) => isWorkingDay(day)));
