import { z } from 'zod';
import { nominalDay, type ScheduleSlot, SLOT_KINDS, slotOf } from '../follow-up-schedule';
import { REQUIRED_EVIDENCE } from '../slot-evidence';
import { STRATEGIES } from '../vocabulary';
import { type NumberField, requiredChoiceEntry, requiredDayEntry, requiredNumberEntry } from './entries';
import { SCHEDULE_LABELS as LABELS, SLOT_LABELS } from './field-labels';

export const MOST_SLOTS = 40;
export const FOR_ALL = 'all';

/** Whom a schedule is for: all strategies, or one. */
export const SCHEDULE_SCOPES = [
  {
    code: FOR_ALL,
    label: 'All strategies',
    definition: 'Every case whose strategy has no schedule of its own.',
  },
  ...STRATEGIES,
] as const;

export const DUE_UNITS = [
  { code: 'days', label: 'days', definition: 'Days after the procedure.' },
  { code: 'months', label: 'months', definition: 'Calendar months after the procedure.' },
] as const;

/** Whether a strategy has slots of its own, or goes back to the schedule for all. */
export const SCHEDULE_COURSES = [
  { code: 'own', label: 'the contacts below', definition: 'The contacts listed below hold.' },
  {
    code: 'as-for-all',
    label: 'the schedule for all again',
    definition: 'The schedule for all strategies holds.',
  },
] as const;

const count = (label: string, min: number, max: number): NumberField => ({
  label,
  unit: '',
  min,
  max,
  decimals: 0,
});

const slotShape = {
  kind: requiredChoiceEntry(SLOT_LABELS.kind, SLOT_KINDS),
  amount: requiredNumberEntry(count(SLOT_LABELS.amount, 1, 3660)),
  unit: requiredChoiceEntry(SLOT_LABELS.unit, DUE_UNITS),
  windowBeforeDays: requiredNumberEntry(count(SLOT_LABELS.windowBeforeDays, 0, 180)),
  windowAfterDays: requiredNumberEntry(count(SLOT_LABELS.windowAfterDays, 0, 365)),
  evidence: requiredChoiceEntry(SLOT_LABELS.evidence, REQUIRED_EVIDENCE),
};
const slotEntries = z.strictObject(slotShape);
type SlotEntries = z.output<typeof slotEntries>;

const shape = {
  scope: requiredChoiceEntry(LABELS.scope, SCHEDULE_SCOPES),
  effectiveOn: requiredDayEntry(LABELS.effectiveOn),
  course: requiredChoiceEntry(LABELS.course, SCHEDULE_COURSES),
  slots: z
    .array(slotEntries, { error: 'Contacts: the list could not be read. Reload the page.' })
    .max(MOST_SLOTS, { error: `Contacts: at most ${MOST_SLOTS}. Remove some.` }),
};

interface Typed {
  readonly scope: string;
  readonly course: string;
  readonly slots: readonly { readonly amount: unknown; readonly unit: unknown }[];
}

function checkSlots({ scope, course, slots }: Typed, context: z.core.$RefinementCtx): void {
  const refuse = (path: (string | number)[], message: string) =>
    context.addIssue({ code: 'custom', path, message, continue: true });
  if (course === 'as-for-all') {
    if (scope === FOR_ALL)
      refuse(
        ['course'],
        `${LABELS.course}: the schedule for all has no other to go back to. Choose a strategy, or the contacts below.`,
      );
    return;
  }
  if (slots.length === 0) refuse(['slots'], 'Contacts: there is none. Add at least one.');
  slots.forEach(({ amount, unit }, index) => {
    const first = slots.findIndex((other) => other.amount === amount && other.unit === unit);
    if (typeof amount === 'number' && first < index)
      refuse(
        ['slots', index, 'amount'],
        `${SLOT_LABELS.amount}: contact ${first + 1} is due then already. Remove one, or mend when it is due.`,
      );
    if (unit === 'months' && typeof amount === 'number' && amount > 120)
      refuse(
        ['slots', index, 'amount'],
        `${SLOT_LABELS.amount}: ${amount} months lie beyond ten years, 120 months. Check the unit.`,
      );
  });
}

/** A new version of a schedule, as it is typed: contacts in any order. */
export const scheduleFormSchema = z.strictObject(shape).superRefine(checkSlots);
/** The same as it is saved after a look at what moves; `follows`: the version that was the newest then, 0 = none. */
export const scheduleSaveSchema = z
  .strictObject({ ...shape, follows: z.int().min(0) })
  .superRefine(checkSlots);

export type ScheduleFormInput = z.input<typeof scheduleFormSchema>;
export type ScheduleForm = z.output<typeof scheduleFormSchema>;
export type ScheduleSaveInput = z.input<typeof scheduleSaveSchema>;
export type ScheduleSave = z.output<typeof scheduleSaveSchema>;

/** A contact as a new row of the form begins. */
export const emptySlot = {
  kind: 'visit',
  amount: '',
  unit: 'months',
  windowBeforeDays: '',
  windowAfterDays: '',
  evidence: 'ecg',
} satisfies z.input<typeof slotEntries>;

/** The slots that a form asks for, in the order in which they fall due; none where a strategy goes back to the schedule for all. */
export function slotsOfForm({ course, slots }: Pick<ScheduleForm, 'course' | 'slots'>): ScheduleSlot[] {
  return course === 'as-for-all'
    ? []
    : slots.map(slotOfEntries).sort((a, b) => nominalDay(a) - nominalDay(b));
}

export const slotOfEntries = ({ kind, amount, unit, ...rest }: SlotEntries): ScheduleSlot =>
  slotOf({ kind, due: { unit, amount }, ...rest });

/** Stored slots as the form shows them. */
export const entriesOfSlots = (slots: readonly ScheduleSlot[]): ScheduleFormInput['slots'] =>
  slots.map(({ kind, due, windowBeforeDays, windowAfterDays, evidence }) => ({
    kind,
    amount: String(due.amount),
    unit: due.unit,
    windowBeforeDays: String(windowBeforeDays),
    windowAfterDays: String(windowAfterDays),
    evidence: evidence === 'contact' ? 'symptoms' : evidence,
  }));

/** What was understood, as the form shows it. */
export const typedOfForm = ({ scope, effectiveOn, course, slots }: ScheduleForm): ScheduleFormInput => ({
  scope,
  effectiveOn,
  course,
  slots: slots.map((slot) => ({
    ...slot,
    amount: String(slot.amount),
    windowBeforeDays: String(slot.windowBeforeDays),
    windowAfterDays: String(slot.windowAfterDays),
  })),
});

/** The strategy that is stored for a scope: null for all. */
export const strategyOfScope = (scope: string): string | null => (scope === FOR_ALL ? null : scope);
