import { z } from 'zod';
import { type CalendarDay, daysBetween, isCalendarDay } from '../calendar-day';
import { type Finding, refusal, warning } from '../findings';
import { READMISSION_CAUSES } from '../readmission';
import { amendmentShape } from './amendment';
import { impossibleDay } from './complication-checks';
import { dayEntry, requiredChoiceEntry, requiredDayEntry } from './entries';
import { READMISSION_LABELS as LABELS } from './field-labels';
import { keptEntries } from './kept-values';

const shape = {
  admittedOn: requiredDayEntry(LABELS.admittedOn),
  /** Empty = still in hospital, or not known. */
  dischargedOn: dayEntry(LABELS.dischargedOn),
  cause: requiredChoiceEntry(LABELS.cause, READMISSION_CAUSES),
  kept: keptEntries,
};

interface Stay {
  readonly admittedOn: string;
  readonly dischargedOn: string | null;
}

function checkStay({ admittedOn, dischargedOn }: Stay, context: z.core.$RefinementCtx): void {
  if (typeof dischargedOn !== 'string' || typeof admittedOn !== 'string') return;
  if (!isCalendarDay(dischargedOn) || !isCalendarDay(admittedOn) || dischargedOn >= admittedOn) return;
  const message = `${LABELS.dischargedOn}: ${dischargedOn} is before the admission, ${admittedOn}. Mend one of the two.`;
  context.addIssue({ code: 'custom', path: ['dischargedOn'], message, continue: true });
}

export const readmissionFormSchema = z.strictObject(shape).superRefine(checkStay);
export const readmissionAmendmentSchema = z
  .strictObject({ ...shape, ...amendmentShape })
  .superRefine(checkStay);

export type ReadmissionFormInput = z.input<typeof readmissionFormSchema>;
export type ReadmissionForm = z.output<typeof readmissionFormSchema>;
export type ReadmissionAmendmentInput = z.input<typeof readmissionAmendmentSchema>;
export type ReadmissionAmendment = z.output<typeof readmissionAmendmentSchema>;

export const emptyReadmissionForm = {
  admittedOn: '',
  dischargedOn: '',
  cause: '',
  kept: [],
} satisfies ReadmissionFormInput;

export interface ReadmissionContext {
  readonly performedOn: CalendarDay;
  /** End of the stay for the procedure; null when it is not recorded. */
  readonly dischargedOn: CalendarDay | null;
  readonly today: CalendarDay;
  readonly diedOn: CalendarDay | null;
  readonly nextPerformedOn: CalendarDay | null;
  /** Other readmissions of this case that count. */
  readonly others: readonly { readonly admittedOn: CalendarDay; readonly dischargedOn: CalendarDay | null }[];
  /** True when a complication of this case counts. */
  readonly hasComplication: boolean;
}

const LONGEST_USUAL_STAY_DAYS = 60;

/** What speaks against a readmission once its case and today's date are known. */
export function checkReadmissionAgainstCase(stay: ReadmissionForm, context: ReadmissionContext): Finding[] {
  const { admittedOn, dischargedOn, cause } = stay;
  const found = [
    ...impossibleDay('admittedOn', LABELS.admittedOn, admittedOn, context),
    ...checkAdmission(admittedOn, context),
    ...(dischargedOn === null
      ? []
      : impossibleDay('dischargedOn', LABELS.dischargedOn, dischargedOn, context)),
  ];
  const clash = context.others.find((other) => isOverlapping(stay, other));
  if (clash) {
    const until = clash.dischargedOn === null ? 'which has not ended' : `to ${clash.dischargedOn}`;
    found.push(
      refusal(
        'admittedOn',
        `${LABELS.admittedOn}: a stay from ${clash.admittedOn} ${until} is recorded already, and nobody is in hospital twice. Mend one of the two.`,
      ),
    );
  }
  if (dischargedOn !== null && daysBetween(admittedOn, dischargedOn) > LONGEST_USUAL_STAY_DAYS) {
    found.push(
      warning(
        'dischargedOn',
        `${LABELS.dischargedOn}: a stay of ${daysBetween(admittedOn, dischargedOn)} days is unusually long. Check both days, or keep them.`,
      ),
    );
  }
  if (cause === 'complication' && !context.hasComplication) {
    found.push(
      warning(
        'cause',
        'No complication of this case is reported. Report it too, or choose another cause; this entry may be kept.',
      ),
    );
  }
  return found;
}

function checkAdmission(admittedOn: CalendarDay, context: ReadmissionContext): Finding[] {
  const { performedOn, dischargedOn, nextPerformedOn } = context;
  const refuse = (why: string) => [refusal('admittedOn', `${LABELS.admittedOn}: ${admittedOn} ${why}`)];
  if (admittedOn < performedOn) {
    return refuse(
      `is before the procedure on ${performedOn}. Check the day, or enter it at the earlier case.`,
    );
  }
  if (dischargedOn !== null && admittedOn < dischargedOn) {
    return refuse(
      `is before the discharge after the procedure on ${dischargedOn}: that is still the first stay. Mend one of the two.`,
    );
  }
  if (nextPerformedOn !== null && admittedOn > nextPerformedOn) {
    return refuse(`is after the next procedure on ${nextPerformedOn}. Enter it at that case.`);
  }
  return [];
}

/** Two stays may share the day on which one ends and the other begins, no more. */
function isOverlapping(a: Stay, b: Stay): boolean {
  const endsBefore = (x: Stay, y: Stay) => x.dischargedOn !== null && x.dischargedOn <= y.admittedOn;
  return !endsBefore(a, b) && !endsBefore(b, a);
}
