import { type Admission, birthdayPhase, deliveredFrom, operatorWeights } from './admissions';
import { LAST_DAY, type LabDay, workingDayFrom, yearsOf } from './calendar';
import { drawMonitor, type PlannedContact, scheduledContacts, symptomContacts } from './contacts';
import { type Finding, type PlannedRecording, read } from './detection';
import { drawDeathDay, drawHarm, type Harmed } from './harm';
import { logRiskOf, type Risk } from './hazard';
import {
  type Compared,
  type Delivered,
  FOLLOW_UP,
  type OperatorCode,
  RECURRENCE,
  TREATMENT,
} from './parameters';
import { type RandomStream, streamOf } from './random';
import { drawRhythm, type Recurrence, type RhythmCourse } from './rhythm';

export interface SeenRecording extends PlannedRecording {
  readonly finding: Finding;
}
export interface SeenContact extends Omit<PlannedContact, 'recordings'> {
  readonly recordings: readonly SeenRecording[];
  readonly drugsReviewed: boolean;
}
interface CardioversionDone {
  readonly day: LabDay;
  readonly kind: 'electrical' | 'pharmacological';
}
export interface CaseCourse {
  readonly ordinal: number;
  readonly day: LabDay;
  readonly risk: Risk;
  readonly intended: Compared;
  readonly delivered: Delivered;
  /** A repeat may close gaps only, or encircle anew. */
  readonly gapsOnly: boolean;
  readonly rhythm: RhythmCourse;
  readonly contacts: readonly SeenContact[];
  readonly complications: readonly Harmed[];
  /** Day of the first recording after blanking that showed a recurrence, and of the contact that brought it; null when none did. */
  readonly detectedOn: LabDay | null;
  readonly knownOn: LabDay | null;
  readonly cardioversions: readonly CardioversionDone[];
}
export interface PatientCourse {
  readonly admission: Admission;
  readonly cases: readonly CaseCourse[];
  readonly diedOn: LabDay | null;
  readonly deathRelated: boolean;
  readonly transferredOn: LabDay | null;
  readonly withdrawnOn: LabDay | null;
  /** Last day on which the lab could hear anything. */
  readonly until: LabDay;
}

/** Cases that an operator has done before a day, in and before the lab, repeats left out. */
export type CasesAt = (operator: OperatorCode, day: LabDay) => number;

/** Everything that happens to one patient up to the lab's last day: the truth and what was seen of it. */
export function courseOf(seed: number, admission: Admission, casesAt: CasesAt): PatientCourse {
  const { index } = admission;
  const contactStream = streamOf(seed, 'contacts', index);
  const harmStream = streamOf(seed, 'harm', index);
  const dropOutOn =
    admission.day + 1 + Math.floor(contactStream.exponential(365.25 / FOLLOW_UP.dropOutPerYear));
  const dropOutKind = contactStream.choose(FOLLOW_UP.dropOutKind);
  const hasMonitor = drawMonitor(contactStream);
  let diedOn = drawDeathDay(harmStream, admission.day, admission);
  let deathRelated = false;
  let until = Math.min(LAST_DAY, dropOutOn, diedOn - 1);

  const cases: CaseCourse[] = [];
  let next: CaseStart | null = { ...admission, risk: admission, gapsOnly: false };
  while (next && cases.length < TREATMENT.mostProcedures) {
    const ordinal = cases.length + 1;
    const start: CaseStart = next;
    const harm = drawHarm(harmStream, start.day, start.delivered, Math.min(LAST_DAY, diedOn));
    const fatal = harm.find((entry) => entry.type === 'death');
    if (fatal) {
      diedOn = fatal.onsetDay;
      deathRelated = true;
      until = Math.min(until, diedOn - 1);
    }
    const followed = followCase(seed, index, ordinal, start, until, hasMonitor);
    const stop = followed.repeatDay ?? Number.POSITIVE_INFINITY;
    cases.push({
      ...start,
      ...followed,
      ordinal,
      complications: harm.filter((entry) => entry.onsetDay < stop && entry.onsetDay <= diedOn),
      contacts: contactsBefore(followed.contacts, stop),
      cardioversions: followed.cardioversions.filter(({ day }) => day < stop),
    });
    next =
      followed.repeatDay === null
        ? null
        : repeatAt(seed, admission, ordinal + 1, followed.repeatDay, casesAt);
  }
  const isGone = dropOutOn <= Math.min(LAST_DAY, diedOn);
  return {
    admission,
    cases,
    diedOn: diedOn <= LAST_DAY && (deathRelated || !isGone || dropOutKind === 'silent') ? diedOn : null,
    deathRelated,
    transferredOn: isGone && dropOutKind === 'transferred' ? dropOutOn : null,
    withdrawnOn: isGone && dropOutKind === 'withdrawn' ? dropOutOn : null,
    until,
  };
}

interface CaseStart {
  readonly day: LabDay;
  readonly risk: Risk;
  readonly intended: Compared;
  readonly delivered: Delivered;
  readonly gapsOnly: boolean;
}

function followCase(
  seed: number,
  index: number,
  ordinal: number,
  { day, risk, delivered }: CaseStart,
  until: LabDay,
  hasMonitor: boolean,
) {
  const stream = streamOf(seed, 'contacts', index, ordinal);
  const logRisk = logRiskOf(risk) + (ordinal > 1 ? RECURRENCE.logHazardRatio.repeat : 0);
  const rhythm = drawRhythm(streamOf(seed, 'rhythm', index, ordinal), day, logRisk, delivered);
  const recurrences = rhythm.early ? [rhythm.early, rhythm.late] : [rhythm.late];
  const planned = [
    ...scheduledContacts(stream, day, until, hasMonitor),
    ...symptomContacts(stream, day, until, recurrences),
  ].sort((a, b) => a.day - b.day);
  const watched = watch(stream, planned, recurrences, day + RECURRENCE.blankingDays, until);
  return { rhythm, ...watched, repeatDay: drawRepeatDay(stream, watched.knownOn, until) };
}

/** Reads the recordings contact by contact; a cardioversion of a sustained recurrence leaves one that comes and goes. */
function watch(
  stream: RandomStream,
  planned: readonly PlannedContact[],
  recurrences: readonly Recurrence[],
  blankedThrough: LabDay,
  until: LabDay,
) {
  let present = [...recurrences];
  let detectedOn: LabDay | null = null;
  let knownOn: LabDay | null = null;
  const cardioversions: CardioversionDone[] = [];
  const contacts: SeenContact[] = [];
  for (const { recordings, ...contact } of planned) {
    if (contacts.some((other) => other.day === contact.day && other.slot === contact.slot)) continue;
    const seen = recordings.map((recording) => ({ ...recording, finding: read(stream, recording, present) }));
    const drugsReviewed = stream.happens(FOLLOW_UP.drugsReviewed[contact.mode]);
    contacts.push({ ...contact, recordings: seen, drugsReviewed });
    const [wish, delay, isShock] = [stream.uniform(), stream.whole(1, 28), stream.happens(0.85)];
    const positives = seen.filter(({ finding }) => finding.isRecurrence);
    if (positives.length === 0) continue;
    const late = positives.map(dayOfPositive).filter((onset) => onset > blankedThrough);
    if (late.length > 0) {
      detectedOn ??= Math.min(...late);
      knownOn ??= contact.day;
    }
    const running = present.find(
      (one) => one.sustained && one.firstDay <= contact.day && one.lastDay >= contact.day,
    );
    const day = workingDayFrom(contact.day + delay);
    if (!running || wish >= TREATMENT.cardioversionWhenSustained || day > until) continue;
    cardioversions.push({ day, kind: isShock ? 'electrical' : 'pharmacological' });
    present = present.map((one) => (one === running ? { ...one, sustained: false } : one));
  }
  return { contacts, detectedOn, knownOn, cardioversions };
}

const dayOfPositive = (recording: SeenRecording): LabDay =>
  recording.finding.episodeStartDay ?? recording.startDay;

function drawRepeatDay(stream: RandomStream, knownOn: LabDay | null, until: LabDay): LabDay | null {
  const isWanted = stream.happens(TREATMENT.repeatAfterDetection);
  const delay = stream.whole(TREATMENT.repeatDelayDays[0], TREATMENT.repeatDelayDays[1]);
  if (knownOn === null || !isWanted) return null;
  const day = workingDayFrom(knownOn + delay);
  return day <= until ? day : null;
}

function contactsBefore(contacts: readonly SeenContact[], stop: LabDay): SeenContact[] {
  return contacts.filter((contact) => contact.day < stop);
}

function repeatAt(
  seed: number,
  admission: Admission,
  ordinal: number,
  day: LabDay,
  casesAt: CasesAt,
): CaseStart {
  const stream = streamOf(seed, 'procedure', admission.index, ordinal);
  const calendarYears = yearsOf(day);
  const operator = stream.choose(operatorWeights(calendarYears));
  const risk: Risk = {
    ageYears:
      admission.ageYears + Math.floor((day - admission.day) / 365.25 + birthdayPhase(seed, admission.index)),
    afType: admission.afType,
    laDiameterMm: Math.min(66, admission.laDiameterMm + stream.whole(-1, 2)),
    structuralHeartDisease: admission.structuralHeartDisease,
    operator,
    operatorCases: casesAt(operator, day),
    calendarYears,
  };
  const lines = admission.afType === 'paroxysmal' ? 0.35 : 0.65;
  const intended = stream.happens(lines) ? 'wide-with-lines' : 'wide-encircling';
  return { day, risk, intended, delivered: deliveredFrom(stream, intended), gapsOnly: stream.happens(0.4) };
}
