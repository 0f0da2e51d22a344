import type { EpochDay } from './calendar-day';
import { toEpochDay } from './calendar-day';
import type { PlannedSlot, ScheduleSlot } from './follow-up-schedule';
import { EVIDENCE_GRADES, type EvidenceGrade, labelOf, type Term } from './vocabulary';

/** A recording as the plan sees it: the days that it covers, how much it sees, and at which visit it was entered. */
export interface EvidenceSpan {
  readonly firstDay: EpochDay;
  readonly lastDay: EpochDay;
  readonly grade: EvidenceGrade;
  readonly visitId: string | null;
}

const RANK = new Map<string, number>(EVIDENCE_GRADES.map(({ code }, index) => [code, index]));
const rankOf = (grade: string): number => RANK.get(grade) ?? 0;

/** True when asking is enough: nothing has to be recorded. */
const isAskingEnough = ({ evidence }: ScheduleSlot): boolean =>
  evidence === 'symptoms' || evidence === 'contact';

/**
 * Whether a slot has the evidence that it needs: a recording of that grade or better that was entered at one of its visits,
 * or that covers a day of its window after the procedure, however it came to the lab.
 */
export function hasEvidence(
  { slot, opensOn, closesOn }: PlannedSlot,
  performedOnDay: EpochDay,
  visitIds: readonly string[],
  spans: readonly EvidenceSpan[],
): boolean {
  if (isAskingEnough(slot)) return true;
  const needed = rankOf(slot.evidence);
  const [opens, closes] = [Math.max(toEpochDay(opensOn), performedOnDay + 1), toEpochDay(closesOn)];
  return spans.some(
    ({ firstDay, lastDay, grade, visitId }) =>
      rankOf(grade) >= needed &&
      ((visitId !== null && visitIds.includes(visitId)) || (firstDay <= closes && lastDay >= opens)),
  );
}

/** What a slot may need, from least to most. */
export const REQUIRED_EVIDENCE = [
  {
    code: 'symptoms',
    label: 'Symptoms asked',
    definition: 'A contact is enough; nothing has to be recorded.',
  },
  ...EVIDENCE_GRADES.filter(({ code }) => code !== 'contact'),
] as const satisfies readonly Term[];

/** What a slot needs, in words. */
export const evidenceWords = (slot: Pick<ScheduleSlot, 'evidence'>): string =>
  labelOf([...REQUIRED_EVIDENCE, ...EVIDENCE_GRADES], slot.evidence);
