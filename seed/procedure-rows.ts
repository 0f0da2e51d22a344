import type { BulkPatient } from '../lib/records/bulk-load';
import { addDays, type CalendarDay } from '../lib/registry/calendar-day';
import { type Anatomy, veinsOf } from './anatomy';
import { type Background, forget } from './baseline';
import type { CaseCourse, PatientCourse } from './course';
import { rowsOfHarm } from './harm-rows';
import { drawLesions, type Lesion } from './lesions';
import type { DemoPeople } from './people';
import { type RandomStream, streamOf } from './random';
import { drawRecordDetails, SIGNED_AFTER_DAYS, stateOfRecord } from './record-details';

type Rows = Pick<
  BulkPatient,
  'procedures' | 'baselines' | 'lesionElements' | 'complications' | 'readmissions'
>;

export interface CaseContext {
  readonly seed: number;
  readonly firstDay: CalendarDay;
  readonly people: DemoPeople;
  readonly patientId: string;
  readonly course: PatientCourse;
  readonly background: Background;
  readonly anatomy: Anatomy;
}

/** The rows of one procedure: itself, its baseline, its lesions, complications and readmissions. */
export function rowsOfCase(context: CaseContext, one: CaseCourse, procedureId: string): Rows {
  const { seed, course } = context;
  const { index } = course.admission;
  const stream = streamOf(seed, 'procedure', index, one.ordinal + 100);
  const lesionStream = streamOf(seed, 'lesions', index, one.ordinal);
  const lesions = drawLesions(lesionStream, {
    delivered: one.delivered,
    anatomy: context.anatomy,
    isRepeat: one.ordinal > 1,
    gapsOnly: one.gapsOnly,
  });
  const procedure = procedureRow(stream, context, one, procedureId);
  const baseline = baselineRow(stream, context, one, procedureId);
  const details = drawRecordDetails(streamOf(seed, 'record', index, one.ordinal), {
    isRepeat: one.ordinal > 1,
    isBalloon: one.delivered === 'single-shot',
  });
  const written = { ...procedure, ...details };
  return {
    procedures: [{ ...written, ...standingOf(context, one, written, baseline, lesions) }],
    baselines: [baseline],
    lesionElements: lesions.map((lesion) => ({ id: lesionStream.id(), procedureId, ...lesion })),
    ...rowsOfHarm(context, one, procedureId, stream, procedure.dischargedOn ?? null),
  };
}

/** How far the record has come; what is signed is signed by the lab's physician, two weeks after the procedure. */
function standingOf(
  { firstDay, people }: CaseContext,
  one: CaseCourse,
  procedure: Rows['procedures'][number],
  baseline: Rows['baselines'][number],
  lesions: readonly Lesion[],
): Pick<Rows['procedures'][number], 'state' | 'signedById' | 'signedAt'> {
  const text = (value: unknown) => (value === null || value === undefined ? '' : String(value));
  const state = stateOfRecord(one.day, {
    values: Object.fromEntries([
      ...Object.entries(procedure).map(([name, value]) => [name, text(value)]),
      ...Object.entries(baseline).map(([name, value]) => [`baseline.${name}`, text(value)]),
    ]),
    lesions: {
      elements: lesions.length,
      notRecorded: lesions.filter((lesion) => lesion.state === 'not-recorded').length,
      entranceBlock: procedure.entranceBlock ?? null,
      isSingleShot: one.delivered === 'single-shot',
    },
    strategy: { intended: one.intended, derived: one.delivered, settled: null },
  });
  if (state !== 'signed' || people.physicianId === null)
    return { state: state === 'signed' ? 'entered' : state };
  return {
    state,
    signedById: people.physicianId,
    signedAt: addDays(firstDay, one.day + SIGNED_AFTER_DAYS),
  };
}

const BASE_MINUTES = {
  ostial: 165,
  'wide-encircling': 150,
  'wide-with-lines': 192,
  'single-shot': 96,
  mixed: 175,
};
const BASE_FLUOROSCOPY_S = {
  ostial: 1900,
  'wide-encircling': 1350,
  'wide-with-lines': 1700,
  'single-shot': 1150,
  mixed: 1650,
};

function procedureRow(
  stream: RandomStream,
  { firstDay, people, patientId, course, anatomy }: CaseContext,
  one: CaseCourse,
  id: string,
): Rows['procedures'][number] {
  const { day, risk, delivered } = one;
  const isBalloon = delivered === 'single-shot';
  const learning = 1 + 0.35 * Math.exp(-risk.operatorCases / 50);
  const scatter = (base: number, spread: number) => base * learning * Math.exp(stream.normal(0, spread));
  const minutes = Math.round(scatter(BASE_MINUTES[delivered], 0.17) * (one.gapsOnly ? 0.75 : 1));
  const later = Math.exp(-0.14 * risk.calendarYears);
  const fluoroscopy = Math.min(60 * minutes, Math.round(scatter(BASE_FLUOROSCOPY_S[delivered], 0.3) * later));
  const isRemote = risk.operator === 'OP-1' && risk.calendarYears > 3 && !isBalloon && stream.happens(0.4);
  const isPersistent = risk.afType !== 'paroxysmal';
  const rhythmAtStart = stream.happens(isPersistent ? 0.7 : 0.15) ? 'af' : 'sinus';
  const stay = 1 + (stream.happens(0.2) ? stream.whole(1, 3) : 0);
  const dischargeDay = day + stay;
  const isKnown = dischargeDay <= course.until;
  return {
    id,
    patientId,
    ordinal: one.ordinal,
    performedOn: addDays(firstDay, day),
    ageYears: forget(stream, 'ageYears', day, risk.ageYears),
    operatorId: forget(stream, 'operatorId', day, people.operatorIds[risk.operator]),
    energy: isBalloon ? 'cryo-balloon' : 'radiofrequency',
    deviceType: isBalloon ? 'balloon' : null,
    steering: isBalloon ? null : forget(stream, 'steering', day, isRemote ? 'remote' : 'manual'),
    intendedStrategy: one.intended,
    veins: veinsOf(anatomy),
    rhythmAtStart,
    rhythmAtEnd: rhythmAtStart === 'af' && stream.happens(0.08) ? 'af' : 'sinus',
    procedureMinutes: minutes,
    fluoroscopySeconds: forget(stream, 'fluoroscopySeconds', day, fluoroscopy),
    dapGyCm2: Math.round(fluoroscopy * 0.02 * Math.exp(stream.normal(0, 0.5)) * 100) / 100,
    heparinUnits: 500 * stream.whole(16, 40),
    lowestActS: stream.whole(270, 360),
    waitingMinutes: 5 * stream.whole(2, 6),
    dischargedOn: isKnown ? addDays(firstDay, dischargeDay) : null,
  };
}

function baselineRow(
  stream: RandomStream,
  { firstDay, course, background }: CaseContext,
  { day, risk, ordinal }: CaseCourse,
  procedureId: string,
): Rows['baselines'][number] {
  const recorded = <Value>(field: Parameters<typeof forget>[1], value: Value) =>
    forget(stream, field, day, value);
  const { afYears, ...known } = background;
  const volume = background.laVolumeIndexMlM2;
  return {
    procedureId,
    ...known,
    legalBasis: 'consent',
    afType: recorded('afType', risk.afType),
    longestEpisodeDays: recorded('longestEpisodeDays', background.longestEpisodeDays),
    afSinceYear: Number(addDays(firstDay, course.admission.day).slice(0, 4)) - afYears,
    symptomScore: recorded('symptomScore', background.symptomScore),
    laDiameterMm: recorded('laDiameterMm', risk.laDiameterMm),
    laVolumeIndexMlM2: recorded('laVolumeIndexMlM2', volume),
    lvefPct: recorded('lvefPct', course.admission.lvefPct),
    bmiKgM2: recorded('bmiKgM2', background.bmiKgM2),
    egfrMlMin173m2: recorded('egfrMlMin173m2', background.egfrMlMin173m2),
    structuralHeartDisease: recorded('structuralHeartDisease', risk.structuralHeartDisease),
    priorCardioversions: background.priorCardioversions + (ordinal > 1 ? 1 : 0),
  };
}
