import { DEFAULT_SLOTS, type ScheduleSlot } from '../lib/registry/follow-up-schedule';
import { LAST_DAY, type LabDay, workingDayFrom, yearsOf } from './calendar';
import { type PlannedRecording, plannedRecording } from './detection';
import { DETECTION, FOLLOW_UP } from './parameters';
import type { RandomStream } from './random';
import type { Recurrence } from './rhythm';

type VisitMode = 'clinic' | 'phone' | 'letter' | 'device';

/** A contact with the lab after a procedure, with the recordings made for it. */
export interface PlannedContact {
  readonly day: LabDay;
  readonly slot: string;
  readonly mode: VisitMode;
  readonly recordings: readonly PlannedRecording[];
}

/** Planned contacts of one procedure that take place, symptoms apart. `until`: the last day on which the lab hears anything. */
export function scheduledContacts(
  stream: RandomStream,
  procedureDay: LabDay,
  until: LabDay,
  hasMonitor: boolean,
): PlannedContact[] {
  const contacts: PlannedContact[] = [];
  let monitoredThrough = procedureDay;
  for (const slot of DEFAULT_SLOTS) {
    const due = procedureDay + dueDays(slot);
    const takesPlace = stream.happens(attendanceOf(slot));
    const day = workingDayFrom(Math.max(procedureDay + 1, due + delayOf(stream, slot)));
    const mode = slot.kind === 'safety-call' ? 'phone' : stream.choose(FOLLOW_UP.visitMode);
    const recordings = recordingsFor(stream, slot, mode, day);
    if (!takesPlace || day > until) continue;
    if (hasMonitor && slot.kind === 'visit') {
      const startDay = monitoredThrough + 1;
      if (day > startDay) recordings.push(plannedRecording('implanted', startDay, 24 * (day - startDay)));
      monitoredThrough = day;
    }
    contacts.push({
      day,
      slot: slot.code,
      mode,
      recordings: recordings.filter(isWithin(procedureDay, until)),
    });
  }
  return contacts;
}

const isWithin = (procedureDay: LabDay, until: LabDay) => (recording: PlannedRecording) =>
  recording.startDay > procedureDay && recording.endDay <= until;

/** Contacts that symptoms bring about: at a recurrence, and now and then with nothing to be found. */
export function symptomContacts(
  stream: RandomStream,
  procedureDay: LabDay,
  until: LabDay,
  recurrences: readonly Recurrence[],
): PlannedContact[] {
  const days = recurrences.flatMap(({ presentsOn }) => presentsOn ?? []);
  for (let day = procedureDay; day <= until; ) {
    day += Math.ceil(stream.exponential(365.25 / PALPITATIONS_PER_YEAR));
    days.push(day);
  }
  return days
    .filter((day) => day > procedureDay && day <= until)
    .map((day) => {
      const mode = stream.happens(0.7) ? 'clinic' : 'letter';
      const kind = stream.happens(0.75) ? 'ecg' : 'rhythm-strip';
      const source = mode === 'clinic' ? 'seen' : 'reported';
      return {
        day,
        slot: 'unscheduled',
        mode,
        recordings: [plannedRecording(kind, day, null, { source, symptomDriven: true })],
      };
    });
}

/** Contacts for palpitations without arrhythmia, per patient and year. */
export const PALPITATIONS_PER_YEAR = 0.1;

/** Months are counted as 30.4375 days, so that the stream does not depend on the calendar. */
function dueDays({ due }: ScheduleSlot): number {
  return due.unit === 'days' ? due.amount : Math.round(due.amount * 30.4375);
}

function attendanceOf(slot: ScheduleSlot): number {
  if (slot.kind === 'safety-call') return FOLLOW_UP.attendance.call;
  const months = slot.due.amount;
  if (months <= 12) return FOLLOW_UP.attendance.firstYear;
  return months <= 24 ? FOLLOW_UP.attendance.secondYear : FOLLOW_UP.attendance.later;
}

/** Most contacts are near the due day, a few come long after the window. */
function delayOf(stream: RandomStream, slot: ScheduleSlot): number {
  const isLate = stream.happens(0.05);
  const spread = Math.round(stream.normal(2, slot.kind === 'safety-call' ? 2.5 : 11));
  const usual = Math.min(slot.windowAfterDays, Math.max(-slot.windowBeforeDays, spread));
  return isLate ? slot.windowAfterDays + stream.whole(1, 30) : usual;
}

function recordingsFor(
  stream: RandomStream,
  slot: ScheduleSlot,
  mode: VisitMode,
  day: LabDay,
): PlannedRecording[] {
  const [ecg, long, hours, lead] = [
    stream.uniform(),
    stream.uniform(),
    hoursOf(stream, day),
    stream.whole(1, 9),
  ];
  if (slot.kind === 'safety-call') {
    return slot.code === 'day-30' && ecg < 0.15
      ? [plannedRecording('ecg', day, null, { source: 'reported' })]
      : [];
  }
  const recordings: PlannedRecording[] = [];
  const ecgShare =
    mode === 'clinic' ? 0.96 : mode === 'phone' ? FOLLOW_UP.outsideEcg.phone : FOLLOW_UP.outsideEcg.letter;
  const source = mode === 'clinic' ? 'seen' : 'reported';
  if (ecg < ecgShare) recordings.push(plannedRecording('ecg', day, null, { source }));
  const longShare = LONG_RECORDING[slot.code] ?? 0.4;
  if (long < (mode === 'clinic' ? longShare : longShare * 0.35)) {
    recordings.push(plannedRecording('holter', day - lead - Math.floor(hours / 24), hours, { source }));
  }
  return recordings;
}

/** Share of clinic visits with a recording of 24 h or more; elsewhere about a third of it. */
const LONG_RECORDING: Readonly<Record<string, number>> = {
  'month-3': 0.3,
  'month-6': 0.6,
  'month-12': 0.8,
  'month-18': 0.4,
  'month-24': 0.65,
};

/** Recordings grow a little longer over the years. */
function hoursOf(stream: RandomStream, day: LabDay): number {
  const late = Math.min(1, yearsOf(day) / yearsOf(LAST_DAY));
  const draw = stream.uniform();
  if (draw < 0.05 + 0.03 * late) return 336;
  if (draw < 0.33 + 0.09 * late) return 168;
  return draw < 0.45 + 0.09 * late ? 48 : 24;
}

/** Whether the patient has an implanted monitor. */
export const drawMonitor = (stream: RandomStream): boolean => stream.happens(DETECTION.implantedShare);
