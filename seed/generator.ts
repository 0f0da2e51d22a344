import type { BulkPatient } from '../lib/records/bulk-load';
import { addDays, type CalendarDay } from '../lib/registry/calendar-day';
import { makePatientCode } from '../lib/registry/patient-code';
import { type Admission, admissionsOf, birthdayPhase } from './admissions';
import { drawAnatomy } from './anatomy';
import { drawBackground } from './baseline';
import { firstMonday, type LabDay } from './calendar';
import { type CasesAt, courseOf, type PatientCourse } from './course';
import { deviceDaysOf } from './device-rows';
import { rowsOfFollowUp, rowsOfPatient } from './follow-up-rows';
import { DEMO_SEED, type OperatorCode, PATIENTS, RECURRENCE } from './parameters';
import type { DemoPeople } from './people';
import { rowsOfCase } from './procedure-rows';
import { streamOf } from './random';

export interface DemoOrder {
  readonly seed?: number;
  readonly patients?: number;
  /** The day on which the demo is loaded: everything happened before it. */
  readonly anchor: CalendarDay;
  readonly people: DemoPeople;
}

/** The courses of a lab: truth and what was seen of it, in lab days. */
export function coursesOf(seed: number = DEMO_SEED, patients: number = PATIENTS): PatientCourse[] {
  const admissions = [...admissionsOf(streamOf(seed, 'admissions'), patients)];
  const casesAt = casesOf(admissions);
  return admissions.map((admission) => courseOf(seed, admission, casesAt));
}

/** The demo lab as rows ready to load. The same seed gives the same bytes; another anchor moves dates and nothing else. */
export function demoPatients({
  seed = DEMO_SEED,
  patients = PATIENTS,
  anchor,
  people,
}: DemoOrder): BulkPatient[] {
  const firstDay = firstMonday(anchor);
  const taken = new Set<string>();
  return coursesOf(seed, patients).map((course) => {
    const code = freeCode(seed, course.admission.index, taken);
    return patientOf(seed, firstDay, people, course, code);
  });
}

function casesOf(admissions: readonly Admission[]): CasesAt {
  const days: Record<OperatorCode, LabDay[]> = { 'OP-1': [], 'OP-2': [], 'OP-3': [] };
  for (const { operator, day } of admissions) days[operator].push(day);
  return (operator, day) => {
    const later = days[operator].findIndex((other) => other >= day);
    return RECURRENCE.casesBefore[operator] + (later < 0 ? days[operator].length : later);
  };
}

function freeCode(seed: number, index: number, taken: Set<string>): string {
  const stream = streamOf(seed, 'identity', index, 1);
  for (;;) {
    const code = makePatientCode(stream.bytes(32));
    if (taken.has(code)) continue;
    taken.add(code);
    return code;
  }
}

function patientOf(
  seed: number,
  firstDay: CalendarDay,
  people: DemoPeople,
  course: PatientCourse,
  code: string,
): BulkPatient {
  const { admission } = course;
  const stream = streamOf(seed, 'identity', admission.index);
  const patientId = stream.id();
  const at = (day: LabDay): CalendarDay => addDays(firstDay, day);
  const daysOld = Math.round((admission.ageYears + birthdayPhase(seed, admission.index)) * 365.25);
  const birthYear = Number(at(admission.day - daysOld).slice(0, 4));
  const deathCause = stream.choose({
    cardiac: 0.35,
    stroke: 0.08,
    bleeding: 0.04,
    'not-vascular': 0.38,
    unknown: 0.15,
  });
  const background = drawBackground(seed, admission);
  const anatomy = drawAnatomy(streamOf(seed, 'lesions', admission.index));
  const context = { seed, firstDay, people, patientId, course, background, anatomy };
  const cases = course.cases.map((one) => {
    const procedureId = stream.id();
    return {
      ...rowsOfCase(context, one, procedureId),
      ...rowsOfFollowUp(seed, firstDay, patientId, course, one, procedureId),
      performedOn: at(one.day),
    };
  });
  const own = rowsOfPatient(seed, firstDay, patientId, course);
  return {
    patient: {
      id: patientId,
      code,
      birthYear,
      sex: admission.sex,
      ...(course.diedOn === null
        ? {}
        : {
            diedOn: at(course.diedOn),
            deathCause: course.deathRelated ? 'cardiac' : deathCause,
            deathRelated: course.deathRelated ? 'related' : 'unrelated',
          }),
      ...(course.transferredOn === null ? {} : { transferredOn: at(course.transferredOn) }),
      ...(course.withdrawnOn === null ? {} : { consentWithdrawnOn: at(course.withdrawnOn) }),
    },
    procedures: cases.flatMap((one) => one.procedures),
    baselines: cases.flatMap((one) => one.baselines),
    lesionElements: cases.flatMap((one) => one.lesionElements),
    complications: cases.flatMap((one) => one.complications),
    readmissions: cases.flatMap((one) => one.readmissions),
    visits: cases.flatMap((one) => one.visits),
    recordings: [...own.recordings, ...cases.flatMap((one) => one.recordings)],
    deviceDays: deviceDaysOf(seed, admission.index, patientId, cases),
    drugEpisodes: own.drugEpisodes,
    cardioversions: cases.flatMap((one) => one.cardioversions),
  };
}
