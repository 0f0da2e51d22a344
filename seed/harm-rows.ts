import type { BulkPatient } from '../lib/records/bulk-load';
import { addDays, type CalendarDay } from '../lib/registry/calendar-day';
import { type Harm, MAJOR_HARMS, severityOf } from '../lib/registry/complications';
import type { CaseCourse, PatientCourse } from './course';
import type { Harmed } from './harm';
import type { DemoPeople } from './people';
import { type RandomStream, streamOf } from './random';

type Rows = Pick<BulkPatient, 'complications' | 'readmissions'>;
type ComplicationRow = Rows['complications'][number];
type ReadmissionRow = Rows['readmissions'][number];

interface HarmContext {
  readonly seed: number;
  readonly firstDay: CalendarDay;
  readonly people: DemoPeople;
  readonly course: PatientCourse;
}

/** Share of readmissions per procedure that no complication explains, with how long after the discharge they come. */
const OTHER_READMISSIONS = {
  perProcedure: 0.03,
  withinDays: 90,
  cause: {
    arrhythmia: 0.5,
    'heart-failure': 0.1,
    'other-cardiac': 0.12,
    'not-cardiac': 0.24,
    unknown: 0.04,
  },
} as const;

/**
 * The complications of one procedure in both states, and the stays in hospital after it. `stream` gives what it always
 * gave (ids, who has judged, who agrees), so that nothing behind it moves; all else comes from a stream of its own.
 */
export function rowsOfHarm(
  context: HarmContext,
  one: CaseCourse,
  procedureId: string,
  stream: RandomStream,
  dischargedOn: CalendarDay | null,
): Rows {
  const { seed, course } = context;
  const own = streamOf(seed, 'aftermath', course.admission.index, one.ordinal);
  const lastDay = course.diedOn ?? Number.POSITIVE_INFINITY;
  const complications = one.complications.map((harm) => {
    // Nothing ends after death.
    const resolvedDay = harm.resolvedDay === null || harm.resolvedDay > lastDay ? null : harm.resolvedDay;
    return complicationRow(context, one, procedureId, { ...harm, resolvedDay }, stream, own);
  });
  return { complications, readmissions: readmissionRows(context, one, procedureId, own, dischargedOn) };
}

function complicationRow(
  { firstDay, people, course }: HarmContext,
  one: CaseCourse,
  procedureId: string,
  harm: Harmed,
  stream: RandomStream,
  own: RandomStream,
): ComplicationRow {
  const at = (day: number): CalendarDay => addDays(firstDay, day);
  const [isJudged, agrees] = [stream.happens(0.85), stream.happens(0.93)];
  const doesCount = isJudged && harm.onsetDay < course.until - 45;
  const isRefuted = own.happens(0.35) && harm.type !== 'death';
  return {
    id: stream.id(),
    procedureId,
    procedurePerformedOn: at(one.day),
    type: harm.type,
    severity: harm.severity,
    harms: [...harm.harms],
    onsetOn: at(harm.onsetDay),
    ...courseOf(harm, own),
    resolvedOn: harm.resolvedDay === null ? null : at(harm.resolvedDay),
    reportedById: people.coordinatorId,
    ...(doesCount
      ? {
          ...(agrees ? agreed(harm, at) : isRefuted ? REFUTED : disagreed(harm, at)),
          adjudicatedById: people.physicianId,
          adjudicatedAt: at(harm.onsetDay + 30),
        }
      : {}),
  };
}

const agreed = (harm: Harmed, at: (day: number) => CalendarDay) => ({
  adjudicatedVerdict: 'confirmed',
  adjudicatedType: harm.type,
  adjudicatedSeverity: harm.severity,
  adjudicatedHarms: [...harm.harms],
  adjudicatedOnsetOn: at(harm.onsetDay),
});

const REFUTED = { adjudicatedVerdict: 'refuted' } as const;

/** The second person saw other harm; the severity follows by its rule. */
function disagreed(harm: Harmed, at: (day: number) => CalendarDay) {
  const harms: Harm[] = harm.harms.some((one) => MAJOR_HARMS.includes(one))
    ? harm.harms.filter((one) => !MAJOR_HARMS.includes(one))
    : [...harm.harms, 'stay-over-48h'];
  const { severity } = severityOf(harm.type, harms);
  return {
    adjudicatedVerdict: 'reclassified',
    adjudicatedType: harm.type,
    adjudicatedSeverity: severity,
    adjudicatedHarms: harms,
    adjudicatedOnsetOn: at(harm.onsetDay),
  };
}

/** What was done and how it ended, as far as it is known. */
function courseOf(harm: Harmed, own: RandomStream) {
  const isKnown = own.happens(0.9);
  const [watched, lasting] = [own.happens(0.6), own.happens(0.5)];
  const treatment = harm.harms.includes('intervention')
    ? (INTERVENTIONS[harm.type] ?? 'percutaneous')
    : harm.harms.includes('transfusion')
      ? 'transfusion'
      : watched
        ? 'none'
        : 'drugs';
  if (harm.type === 'death') return { treatment: null, outcome: 'fatal', attribution: 'unknown' };
  const ended = harm.harms.includes('permanent-injury') ? 'recovered-in-part' : 'recovered';
  const open = lasting && isKnown ? 'not-recovered' : null;
  return {
    treatment: isKnown ? treatment : null,
    outcome: harm.resolvedDay === null ? open : isKnown ? ended : null,
    attribution: isKnown ? (PUT_DOWN_TO[harm.type] ?? 'energy') : null,
  };
}

const INTERVENTIONS: Readonly<Record<string, string>> = {
  tamponade: 'drain',
  haematoma: 'surgery',
  'av-fistula': 'surgery',
  'atrio-oesophageal-fistula': 'surgery',
};
const PUT_DOWN_TO: Readonly<Record<string, string>> = {
  tamponade: 'catheters',
  'effusion-minor': 'catheters',
  haematoma: 'access',
  'pseudo-aneurysm': 'access',
  'av-fistula': 'access',
  stroke: 'anticoagulation',
  tia: 'anticoagulation',
  'volume-overload': 'other-care',
  'arrhythmia-admission': 'disease',
};

/** Stays that a complication led to, and a few others; a stay that has not begun by the last day heard of is not known. */
function readmissionRows(
  { firstDay, course }: HarmContext,
  one: CaseCourse,
  procedureId: string,
  own: RandomStream,
  dischargedOn: CalendarDay | null,
): ReadmissionRow[] {
  const others = OTHER_READMISSIONS;
  const [isOther, delay, cause] = [
    own.happens(others.perProcedure),
    own.whole(2, others.withinDays),
    own.choose(others.cause),
  ];
  if (dischargedOn === null) return [];
  const next =
    course.cases.find(({ ordinal }) => ordinal === one.ordinal + 1)?.day ?? Number.POSITIVE_INFINITY;
  const firstHome = one.day + 5;
  const led = one.complications
    .filter(({ harms }) => harms.includes('readmission'))
    .map(({ type, onsetDay }) => ({
      day: Math.max(onsetDay, firstHome),
      cause: type === 'arrhythmia-admission' ? 'arrhythmia' : 'complication',
    }));
  const all = isOther ? [...led, { day: one.day + 5 + delay, cause }] : led;
  const stays: ReadmissionRow[] = [];
  let freeFrom = firstHome;
  for (const stay of all.sort((a, b) => a.day - b.day)) {
    const [id, nights] = [own.id(), own.whole(1, 6)];
    const first = Math.max(stay.day, freeFrom);
    if (first > course.until || first >= next) continue;
    const last = first + nights;
    stays.push({
      id,
      procedureId,
      procedurePerformedOn: addDays(firstDay, one.day),
      admittedOn: addDays(firstDay, first),
      dischargedOn: last <= course.until ? addDays(firstDay, last) : null,
      cause: stay.cause,
    });
    freeFrom = last + 1;
  }
  return stays;
}
