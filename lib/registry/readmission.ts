import { type CalendarDay, daysBetween } from './calendar-day';
import type { Term } from './vocabulary';

/** Why a patient came back into hospital. Ours (common practice, no source). */
export const READMISSION_CAUSES = [
  {
    code: 'arrhythmia',
    label: 'Arrhythmia',
    definition: 'Atrial arrhythmia, not planned.',
  },
  {
    code: 'complication',
    label: 'Complication',
    definition: 'A complication of the procedure, which is reported as one too.',
  },
  {
    code: 'heart-failure',
    label: 'Heart failure',
    definition: 'Heart failure without a complication of the procedure.',
  },
  {
    code: 'other-cardiac',
    label: 'Other cardiac',
    definition: 'Any other disease of heart or vessels.',
  },
  {
    code: 'planned',
    label: 'Planned',
    definition: 'Arranged beforehand: cardioversion, repeat ablation, other treatment.',
  },
  { code: 'not-cardiac', label: 'Not cardiac', definition: 'Anything else.' },
  { code: 'unknown', label: 'Not known', definition: 'The cause is not known.' },
] as const satisfies readonly [Term, ...Term[]];

/** A readmission within so many days is flagged. */
export const EARLY_READMISSION_DAYS = 30;

export interface ReadmissionTiming {
  readonly days: number;
  readonly from: 'discharge' | 'procedure';
  /** Day 30 is within. */
  readonly isEarly: boolean;
}

/** How long after the discharge a patient came back; after the procedure where no discharge is recorded. */
export function readmissionTiming(
  admittedOn: CalendarDay,
  procedure: { readonly performedOn: CalendarDay; readonly dischargedOn: CalendarDay | null },
): ReadmissionTiming {
  const { performedOn, dischargedOn } = procedure;
  const days = daysBetween(dischargedOn ?? performedOn, admittedOn);
  const from = dischargedOn === null ? 'procedure' : 'discharge';
  return { days, from, isEarly: days <= EARLY_READMISSION_DAYS };
}
