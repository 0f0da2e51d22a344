import { type CalendarDay, daysBetween } from '../calendar-day';
import { type Finding, refusal, warning } from '../findings';
import { codeOfSlot, nominalDay, type ScheduleSlot } from '../follow-up-schedule';
import { SAFETY_CHECK_DAYS } from '../safety-clock';
import { type FollowUpSchedule, newestOf } from '../schedule-versions';
import { SCHEDULE_LABELS as LABELS, SLOT_LABELS } from './field-labels';
import { type ScheduleForm, slotOfEntries, slotsOfForm, strategyOfScope } from './schedule-form';

export interface ScheduleContext {
  readonly today: CalendarDay;
  /** Every version that the lab has stored. */
  readonly schedules: readonly FollowUpSchedule[];
}

const FAR_AHEAD_DAYS = 366;

/** What speaks against a new version once the lab's schedules and today's date are known, in the order of the form. */
export function checkSchedule(form: ScheduleForm, context: ScheduleContext): Finding[] {
  const newest = newestOf(strategyOfScope(form.scope), context.schedules);
  return [
    ...checkDay(form.effectiveOn, newest, context.today),
    ...checkCourse(form, newest),
    ...(form.course === 'own' ? [...checkWindows(form), ...checkSafety(form)] : []),
  ];
}

/** What is planned already stays: a version never reaches back, and never before the one that it replaces. */
function checkDay(effectiveOn: CalendarDay, newest: FollowUpSchedule | null, today: CalendarDay): Finding[] {
  const field = 'effectiveOn';
  if (effectiveOn < today) {
    return [
      refusal(
        field,
        `${LABELS.effectiveOn}: ${effectiveOn} lies in the past, and a new version replans the future only. Give today, ${today}, or a later day.`,
      ),
    ];
  }
  const earlier = newest?.effectiveOn ?? null;
  if (earlier !== null && effectiveOn < earlier) {
    return [
      refusal(
        field,
        `${LABELS.effectiveOn}: version ${newest?.versionNumber} takes effect on ${earlier}, after ${effectiveOn}. Give ${earlier}, which replaces it, or a later day.`,
      ),
    ];
  }
  return daysBetween(today, effectiveOn) > FAR_AHEAD_DAYS
    ? [
        warning(
          field,
          `${LABELS.effectiveOn}: ${effectiveOn} is more than a year ahead. Check the day, or keep it.`,
        ),
      ]
    : [];
}

function checkCourse(form: ScheduleForm, newest: FollowUpSchedule | null): Finding[] {
  if (form.course === 'as-for-all') {
    return newest === null || newest.slots.length === 0
      ? [
          refusal(
            'course',
            `${LABELS.course}: this strategy has no schedule of its own. Nothing would change.`,
          ),
        ]
      : [];
  }
  const isSame =
    newest !== null && JSON.stringify(keysOf(newest.slots)) === JSON.stringify(keysOf(slotsOfForm(form)));
  return isSame
    ? [
        refusal(
          'slots',
          `Contacts: they are those of version ${newest.versionNumber} as they stand. Change something, or leave.`,
        ),
      ]
    : [];
}

const keysOf = (slots: readonly ScheduleSlot[]) =>
  slots.map(({ code, kind, windowBeforeDays, windowAfterDays, evidence }) => [
    code,
    kind,
    windowBeforeDays,
    windowAfterDays,
    evidence,
  ]);

/** Two contacts of one kind that are open at the same time stand on the list twice. */
function checkWindows({ slots }: ScheduleForm): Finding[] {
  const rows = slots.map((entries, index) => ({ index, slot: slotOfEntries(entries) }));
  const inOrder = [...rows].sort((a, b) => nominalDay(a.slot) - nominalDay(b.slot));
  return inOrder.flatMap(({ index, slot }, place) => {
    const next = inOrder.slice(place + 1).find((other) => other.slot.kind === slot.kind);
    if (!next) return [];
    const gap =
      nominalDay(next.slot) - next.slot.windowBeforeDays - (nominalDay(slot) + slot.windowAfterDays);
    if (gap > 0) return [];
    return [
      warning(
        `slots.${index}.windowAfterDays`,
        `${SLOT_LABELS.windowAfterDays}: the window of “${slot.label}” is still open when that of “${next.slot.label}” opens. Both then stand on the list; narrow one, or keep them.`,
      ),
    ];
  });
}

/** Harm is asked for on fixed days, whatever a schedule says. */
function checkSafety({ slots }: ScheduleForm): Finding[] {
  const codes = new Set(slots.map((entries) => codeOfSlot(slotOfEntries(entries))));
  const missing = SAFETY_CHECK_DAYS.filter((day) => !codes.has(`day-${day}`));
  if (missing.length === 0) return [];
  const days = missing.map((day) => `day ${day}`).join(', ');
  const last = missing.includes(90)
    ? 'Without the last one no case becomes safety-complete by this list.'
    : 'A case then becomes safety-complete by a later check only.';
  return [
    warning(
      'slots',
      `Contacts: there is none on ${days}, and harm is asked for on days 7, 30, 60 and 90. ${last} Add it, or keep the list.`,
    ),
  ];
}
