import type { LabDay } from './calendar';
import type { PatientCourse } from './course';
import { TREATMENT } from './parameters';
import { type RandomStream, streamOf } from './random';

export interface DrugTaken {
  readonly drug: string;
  readonly startDay: LabDay;
  /** Last day taken; null = still taken. */
  readonly stopDay: LabDay | null;
}

const ANTIARRHYTHMICS = {
  healthy: { flecainide: 0.45, propafenone: 0.15, amiodarone: 0.2, sotalol: 0.15, dronedarone: 0.05 },
  diseased: { flecainide: 0, propafenone: 0, amiodarone: 0.75, sotalol: 0.15, dronedarone: 0.1 },
};
const ANTICOAGULANTS = { apixaban: 0.36, rivaroxaban: 0.28, edoxaban: 0.12, dabigatran: 0.1, warfarin: 0.14 };

/** What the patient took: class I and III before and after, a beta-blocker, an anticoagulant. Episodes of one drug never overlap. */
export function drugsOf(seed: number, course: PatientCourse): DrugTaken[] {
  const stream = streamOf(seed, 'drugs', course.admission.index);
  const { admission, until } = course;
  const antiarrhythmics = antiarrhythmicsOf(stream, course);
  const taken: DrugTaken[] = [...antiarrhythmics];
  if (stream.happens(0.45)) {
    taken.push({ drug: 'beta-blocker', startDay: admission.day - stream.whole(60, 900), stopDay: null });
  }
  if (stream.happens(0.97)) taken.push(anticoagulantOf(stream, course));
  return taken
    .filter(({ startDay }) => startDay <= until)
    .map((episode) => ({ ...episode, stopDay: known(episode.stopDay, until) }));
}

/** A stop that lies after the last day heard of is not known. */
const known = (day: LabDay | null, until: LabDay): LabDay | null =>
  day !== null && day > until ? null : day;

function antiarrhythmicsOf(stream: RandomStream, { admission, cases }: PatientCourse): DrugTaken[] {
  const isParoxysmal = admission.afType === 'paroxysmal';
  const choices = ANTIARRHYTHMICS[admission.structuralHeartDisease ? 'diseased' : 'healthy'];
  const taken: DrugTaken[] = [];
  if (stream.happens(TREATMENT.drugAtProcedure[isParoxysmal ? 'paroxysmal' : 'other'])) {
    taken.push({
      drug: stream.choose(choices),
      startDay: admission.day - stream.whole(21, 800),
      stopDay: endOf(stream, admission.day),
    });
  }
  for (const { knownOn } of cases) {
    const isGiven = stream.happens(TREATMENT.drugAfterDetection);
    const startDay = (knownOn ?? 0) + stream.whole(1, 14);
    const episode = {
      drug: stream.choose(choices),
      startDay,
      stopDay: stream.happens(0.6) ? startDay + stream.whole(60, 420) : null,
    };
    const isFree = taken.every(({ stopDay }) => stopDay !== null && stopDay < startDay);
    if (knownOn !== null && isGiven && isFree) taken.push(episode);
  }
  return taken;
}

function endOf(stream: RandomStream, day: LabDay): LabDay | null {
  const draws = { blanking: day + stream.whole(25, 88), later: day + stream.whole(100, 400) };
  const end = stream.choose(TREATMENT.drugEnd);
  return end === 'day0' ? day : end === 'never' ? null : draws[end];
}

function anticoagulantOf(stream: RandomStream, { admission }: PatientCourse): DrugTaken {
  const isLowRisk = admission.ageYears < 65 && !admission.structuralHeartDisease;
  return {
    drug: stream.choose(ANTICOAGULANTS),
    startDay: admission.day - stream.whole(21, 500),
    stopDay: isLowRisk && stream.happens(0.65) ? admission.day + stream.whole(62, 220) : null,
  };
}
