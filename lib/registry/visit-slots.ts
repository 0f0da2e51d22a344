import type { CalendarDay } from './calendar-day';
import type { PlannedSlot, ScheduleSlot } from './follow-up-schedule';
import { UNSCHEDULED } from './forms/visit-form';
import { safetyPlanOf } from './safety-clock';

/** What a visit may be entered as. */
export interface VisitSlot {
  readonly code: string;
  readonly label: string;
  /** The evidence that it needs; null where the plan asks for none. */
  readonly evidence: ScheduleSlot['evidence'] | null;
}

/**
 * What a visit of a case may be entered as: the slots of its plan, the safety checks that no schedule spares, and a contact
 * that nobody planned. A stored visit keeps its slot even where the plan has lost it: name it in `stored`.
 */
export function visitSlotsOf(
  performedOn: CalendarDay,
  plan: readonly PlannedSlot[],
  stored: string | null = null,
): VisitSlot[] {
  const planned = new Set(plan.map(({ slot }) => slot.code));
  const checks = safetyPlanOf(performedOn, plan).filter(({ slot }) => !planned.has(slot.code));
  const known: VisitSlot[] = [
    ...[...checks, ...plan].map(({ slot: { code, label, evidence } }) => ({ code, label, evidence })),
    { code: UNSCHEDULED, label: 'Not in the schedule', evidence: null },
  ];
  if (stored === null || known.some(({ code }) => code === stored)) return known;
  return [...known, { code: stored, label: slotWords(stored, known), evidence: null }];
}

/** The name of the slot of a visit: as planned, else what its code says. */
export function slotWords(
  code: string,
  slots: readonly { readonly code: string; readonly label: string }[],
): string {
  const known = slots.find((slot) => slot.code === code)?.label;
  const [unit = '', amount = ''] = code.split('-');
  return known ?? `${unit === 'day' ? 'Day' : 'Month'} ${amount}, no longer in the schedule`;
}
