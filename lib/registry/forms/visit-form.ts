import { z } from 'zod';
import { daysBetween, isCalendarDay } from '../calendar-day';
import { DRUGS } from '../drugs';
import { CARDIOVERSION_KINDS, RHYTHMS, SYMPTOM_SCORES, VISIT_MODES } from '../vocabulary';
import { amendmentShape } from './amendment';
import {
  choiceEntry,
  dayEntry,
  requiredChoiceEntry,
  requiredCodeEntry,
  requiredDayEntry,
  tickEntry,
  yesNoEntry,
} from './entries';
import { DRUG_LABELS, VISIT_LABELS } from './field-labels';
import { recordingEntries } from './recording-entries';

export const MOST_RECORDINGS = 20;
export const MOST_DRUG_ROWS = 20;
/** The slot of a contact that the schedule did not ask for. */
export const UNSCHEDULED = 'unscheduled';

/** A start, or a start with its stop, since the last visit. A row with the day of an episode already stored closes or mends it. */
const drugEntries = z.strictObject({
  drug: requiredChoiceEntry(DRUG_LABELS.drug, DRUGS),
  startedOn: requiredDayEntry(DRUG_LABELS.startedOn),
  /** The last day it was taken; empty = still taken. */
  stoppedOn: dayEntry(DRUG_LABELS.stoppedOn),
});
export type DrugEntries = z.output<typeof drugEntries>;

const shape = {
  slot: requiredCodeEntry(
    VISIT_LABELS.slot,
    /^(unscheduled|(day|month)-[1-9]\d{0,3})$/,
    'Choose the visit of the schedule, or “unscheduled”.',
  ),
  visitedOn: requiredDayEntry(VISIT_LABELS.visitedOn),
  mode: requiredChoiceEntry(VISIT_LABELS.mode, VISIT_MODES),
  /** As told or felt at the visit; evidence is what the recordings below show. */
  rhythm: choiceEntry(VISIT_LABELS.rhythm, RHYTHMS),
  symptoms: choiceEntry(VISIT_LABELS.symptoms, SYMPTOM_SCORES),
  drugsReviewed: tickEntry(VISIT_LABELS.drugsReviewed),
  anticoagulated: yesNoEntry(VISIT_LABELS.anticoagulated),
  cardioversionKind: choiceEntry(VISIT_LABELS.cardioversionKind, CARDIOVERSION_KINDS),
  cardioversionOn: dayEntry(VISIT_LABELS.cardioversionOn),
  drugs: z
    .array(drugEntries, { error: 'Drugs: the list could not be read. Reload the page.' })
    .max(MOST_DRUG_ROWS, {
      error: `Drugs: at most ${MOST_DRUG_ROWS} rows at one visit. Save these, then enter the others as a second visit.`,
    }),
  recordings: z
    .array(recordingEntries, { error: 'Recordings: the list could not be read. Reload the page.' })
    .max(MOST_RECORDINGS, {
      error: `Recordings: at most ${MOST_RECORDINGS} at one visit. Save these, then enter the others as a second visit.`,
    }),
};

interface VisitFields {
  readonly cardioversionKind: string | null;
  readonly cardioversionOn: string | null;
  readonly drugs: readonly DrugEntries[];
}

function checkVisit(visit: VisitFields, context: z.core.$RefinementCtx): void {
  const refuse = (path: (string | number)[], message: string) =>
    context.addIssue({ code: 'custom', path, message, continue: true });
  if (typeof visit.cardioversionKind === 'string' && visit.cardioversionOn === null) {
    refuse(
      ['cardioversionOn'],
      `${VISIT_LABELS.cardioversionOn} is missing. Give the day, or clear the kind of cardioversion.`,
    );
  }
  if (typeof visit.cardioversionOn === 'string' && visit.cardioversionKind === null) {
    refuse(
      ['cardioversionKind'],
      'Kind of cardioversion is missing although a day is given. Choose electrical or pharmacological, or clear the day.',
    );
  }
  visit.drugs.forEach((row, index) => {
    if (!isReadable(row)) return;
    if (row.stoppedOn !== null && daysBetween(row.startedOn, row.stoppedOn) < 0) {
      refuse(
        ['drugs', index, 'stoppedOn'],
        `${DRUG_LABELS.stoppedOn}: ${row.stoppedOn} is before its start, ${row.startedOn}. Mend one of the two.`,
      );
      return;
    }
    const earlier = visit.drugs.findIndex(
      (other, at) => at < index && isReadable(other) && other.drug === row.drug && doOverlap(other, row),
    );
    if (earlier >= 0) {
      refuse(
        ['drugs', index, 'startedOn'],
        `${DRUG_LABELS.startedOn}: this row overlaps row ${earlier + 1} of the same drug. Close the earlier one first, or keep only one.`,
      );
    }
  });
}

/** A drug or day that could not be read has its own message, and says nothing about overlap. */
function isReadable({ drug, startedOn, stoppedOn }: DrugEntries): boolean {
  return (
    typeof drug === 'string' && isCalendarDay(startedOn) && (stoppedOn === null || isCalendarDay(stoppedOn))
  );
}

/** True when two episodes of a drug share a day; an open episode runs on. */
export function doOverlap(
  a: Pick<DrugEntries, 'startedOn' | 'stoppedOn'>,
  b: Pick<DrugEntries, 'startedOn' | 'stoppedOn'>,
): boolean {
  const endsBefore = (x: typeof a, y: typeof a) => x.stoppedOn !== null && x.stoppedOn < y.startedOn;
  return !endsBefore(a, b) && !endsBefore(b, a);
}

export const visitFormSchema = z.strictObject(shape).superRefine(checkVisit);
export const visitAmendmentSchema = z.strictObject({ ...shape, ...amendmentShape }).superRefine(checkVisit);

export type VisitFormInput = z.input<typeof visitFormSchema>;
export type VisitForm = z.output<typeof visitFormSchema>;
export type VisitAmendmentInput = z.input<typeof visitAmendmentSchema>;
export type VisitAmendment = z.output<typeof visitAmendmentSchema>;

export const emptyDrugRow = { drug: '', startedOn: '', stoppedOn: '' } satisfies z.input<typeof drugEntries>;

export const emptyVisitForm = {
  slot: '',
  visitedOn: '',
  mode: '',
  rhythm: '',
  symptoms: '',
  drugsReviewed: false,
  anticoagulated: '',
  cardioversionKind: '',
  cardioversionOn: '',
  drugs: [],
  recordings: [],
} satisfies VisitFormInput;
