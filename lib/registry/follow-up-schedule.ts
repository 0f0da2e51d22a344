import { z } from 'zod';
import { addDays, addMonths, type CalendarDay, daysBetween } from './calendar-day';
import { codesOf, EVIDENCE_GRADES, labelOf, type Term } from './vocabulary';

/** One planned contact after a procedure. */
const scheduleSlotSchema = z.strictObject({
  code: z.string().regex(/^(day|month)-[1-9]\d{0,3}$/, { error: 'A slot code is "day-7" or "month-3".' }),
  label: z.string().trim().min(1).max(60),
  kind: z.enum(['safety-call', 'visit']),
  due: z.strictObject({
    unit: z.enum(['days', 'months']),
    amount: z.int().min(1).max(3660),
  }),
  windowBeforeDays: z.int().min(0).max(180),
  windowAfterDays: z.int().min(0).max(365),
  /** The least evidence that completes it; 'symptoms': asking is enough. */
  evidence: z.enum(['symptoms', ...codesOf(EVIDENCE_GRADES)]),
});
export type ScheduleSlot = z.infer<typeof scheduleSlotSchema>;

/** The stored slots of a schedule: in the order in which they fall due, codes unique and saying when. */
export const scheduleSlotsSchema = z
  .array(scheduleSlotSchema)
  .min(1, { error: 'A schedule has at least one slot.' })
  .max(40, { error: 'A schedule has at most 40 slots.' })
  .superRefine((slots, context) => {
    slots.forEach((slot, index) => {
      const refuse = (message: string) =>
        context.addIssue({ code: 'custom', path: [index, 'code'], message });
      const expected = codeOfSlot(slot);
      if (slot.code !== expected)
        refuse(`Slot ${slot.code} is due as ${expected}: give it that code, or mend when it is due.`);
      if (slots.findIndex((other) => other.code === slot.code) < index)
        refuse(`Slot ${slot.code} is there twice. Remove one.`);
      const before = slots[index - 1];
      if (before && nominalDay(before) > nominalDay(slot))
        refuse(`Slot ${slot.code} falls due before ${before.code}. Put them in order.`);
      if (slot.due.unit === 'months' && slot.due.amount > 120)
        refuse(`Slot ${slot.code} lies beyond 120 months.`);
    });
  });

/** The slots of a stored version: none where a strategy goes back to the schedule for all. */
export const storedSlotsSchema = z.union([z.tuple([]), scheduleSlotsSchema]);

/** When a slot falls due, in days after a procedure, a month counted as 30.4375 days: for an order that no calendar changes. */
export const nominalDay = ({ due }: ScheduleSlot): number =>
  due.unit === 'days' ? due.amount : due.amount * 30.4375;

export const SLOT_KINDS = [
  { code: 'safety-call', label: 'Safety call', definition: 'Harm since the procedure is asked for.' },
  { code: 'visit', label: 'Visit', definition: 'Rhythm, symptoms and drugs are asked for.' },
] as const satisfies readonly [Term, ...Term[]];

/** The code of a slot says when it is due. */
export const codeOfSlot = ({ due }: Pick<ScheduleSlot, 'due'>): string =>
  `${due.unit === 'days' ? 'day' : 'month'}-${due.amount}`;

/** 'Safety call, day 7', 'Visit, 3 months', 'Visit, 2 years': a slot is named by its kind and when it is due. */
function labelOfSlot({ kind, due }: Pick<ScheduleSlot, 'kind' | 'due'>): string {
  const { unit, amount } = due;
  const what = labelOf(SLOT_KINDS, kind);
  if (unit === 'days') return `${what}, day ${amount}`;
  if (amount >= 24 && amount % 12 === 0) return `${what}, ${amount / 12} years`;
  return `${what}, ${amount === 1 ? '1 month' : `${amount} months`}`;
}

type Plain = Omit<ScheduleSlot, 'code' | 'label'>;
/** A slot with its code and its name. */
export const slotOf = (plain: Plain): ScheduleSlot => ({
  code: codeOfSlot(plain),
  label: labelOfSlot(plain),
  ...plain,
});

const call = (amount: number, windowBeforeDays: number, windowAfterDays: number): ScheduleSlot =>
  slotOf({
    kind: 'safety-call',
    due: { unit: 'days', amount },
    windowBeforeDays,
    windowAfterDays,
    evidence: 'symptoms',
  });

const visit = (amount: number, windowBeforeDays: number, windowAfterDays: number): ScheduleSlot =>
  slotOf({
    kind: 'visit',
    due: { unit: 'months', amount },
    windowBeforeDays,
    windowAfterDays,
    evidence: 'ecg',
  });

/**
 * The schedule of a lab that has not made its own. Months 3, 6, 12, 18, 24 with an ECG are the published minimum of routine
 * care; yearly visits after that, the call days and all window widths are ours (common practice, no source).
 */
export const DEFAULT_SLOTS: readonly ScheduleSlot[] = [
  call(7, 3, 7),
  call(30, 7, 14),
  call(60, 7, 14),
  call(90, 7, 21),
  visit(3, 14, 45),
  visit(6, 30, 45),
  visit(12, 45, 60),
  visit(18, 45, 60),
  visit(24, 45, 60),
  ...[36, 48, 60, 72, 84, 96, 108, 120].map((month) => visit(month, 60, 90)),
];

export interface PlannedSlot {
  readonly slot: ScheduleSlot;
  readonly dueOn: CalendarDay;
  /** First and last day on which the contact counts as in time. */
  readonly opensOn: CalendarDay;
  readonly closesOn: CalendarDay;
}

/** The calendar days of every slot of a schedule after one procedure, in the order of the schedule. A window never opens before the procedure. */
export function planOf(performedOn: CalendarDay, slots: readonly ScheduleSlot[]): PlannedSlot[] {
  return slots.map((slot) => {
    const dueOn =
      slot.due.unit === 'days'
        ? addDays(performedOn, slot.due.amount)
        : addMonths(performedOn, slot.due.amount);
    const opensOn = addDays(dueOn, -slot.windowBeforeDays);
    return {
      slot,
      dueOn,
      opensOn: daysBetween(opensOn, performedOn) > 0 ? performedOn : opensOn,
      closesOn: addDays(dueOn, slot.windowAfterDays),
    };
  });
}
