import { addDays, type CalendarDay, daysBetween, toEpochDay } from './calendar-day';
import type { PlannedSlot } from './follow-up-schedule';
import { type EvidenceSpan, hasEvidence } from './slot-evidence';

/** One procedure whose follow-up is planned. */
export interface FollowedCase {
  readonly procedureId: string;
  /** For a stable order and for reading. */
  readonly caseCode: string;
  readonly performedOn: CalendarDay;
  /** What is planned after it, in order: `planUnderVersions`. */
  readonly plan: readonly PlannedSlot[];
  /** Its visits, the latest first. */
  readonly visits: readonly { readonly id: string; readonly slot: string }[];
  /** Recordings of the patient from the procedure on. */
  readonly recordings: readonly EvidenceSpan[];
  /** The first of these days that has come ends the plan: nobody is chased after it. A next procedure has its own plan. */
  readonly diedOn: CalendarDay | null;
  readonly consentWithdrawnOn: CalendarDay | null;
  readonly transferredOn: CalendarDay | null;
  readonly nextPerformedOn: CalendarDay | null;
}

export type SlotState = 'overdue' | 'in-window' | 'upcoming' | 'missed';

export interface WorklistItem extends PlannedSlot {
  readonly procedureId: string;
  readonly caseCode: string;
  readonly state: SlotState;
  /** What is lacking: the contact itself, or, after it, the recording that the schedule asks for. */
  readonly awaits: 'contact' | 'recording';
  /** The visit that lacks its recording; null while the contact itself is lacking. */
  readonly visitId: string | null;
  /** Days after the window closed; 0 unless overdue or missed. */
  readonly daysOverdue: number;
  /** Days until the next thing is lost: the window (in window), or the slot itself (overdue). Upcoming: until it opens. Missed: 0. */
  readonly daysLeft: number;
}

export interface Worklist {
  /** Overdue, in window, and upcoming within the horizon: what is lost first if nothing happens today stands first. */
  readonly items: readonly WorklistItem[];
  /** Slots that cannot be made good any more; counted, not chased. */
  readonly missed: readonly WorklistItem[];
  /** Cases whose plan has ended. */
  readonly ended: number;
  /** First day on which something opens that is not yet in `items`; null when nothing is planned. */
  readonly nextOpensOn: CalendarDay | null;
}

/**
 * An overdue slot stays on the list for this many days at least. Then it is missed as soon as the next window is open:
 * chasing the next contact is then worth more. Ours (common practice, no source).
 */
const MISSED_AFTER_DAYS = 14;
/** With no next window, an overdue slot is missed after this many days. */
const LAST_MISSED_AFTER_DAYS = 365;
/** An open window that closes within this many days goes before overdue visits: what is overdue is late already. */
const CLOSING_SOON_DAYS = 7;

/** True when death, withdrawal, transfer or a next procedure has ended the plan by `today`. */
export function isPlanEnded(followed: FollowedCase, today: CalendarDay): boolean {
  return [
    followed.diedOn,
    followed.consentWithdrawnOn,
    followed.transferredOn,
    followed.nextPerformedOn,
  ].some((day) => day !== null && day <= today);
}

/**
 * The day from which an undone slot counts as missed. The next window is that of the next slot of the same kind; the last
 * slot of its kind looks to the first window of any kind that opens after its own has closed.
 */
function missedFrom(planned: PlannedSlot, plan: readonly PlannedSlot[]): CalendarDay {
  const later = plan.filter((other) => other.dueOn > planned.dueOn);
  const sameKind = later.filter((other) => other.slot.kind === planned.slot.kind);
  const candidates =
    sameKind.length > 0 ? sameKind : later.filter((other) => other.opensOn > planned.closesOn);
  const [nextOpensOn] = candidates.map((other) => other.opensOn).sort();
  if (nextOpensOn === undefined) return addDays(planned.closesOn, LAST_MISSED_AFTER_DAYS + 1);
  const waited = addDays(planned.closesOn, MISSED_AFTER_DAYS + 1);
  return daysBetween(waited, nextOpensOn) > 0 ? nextOpensOn : waited;
}

/**
 * Every undone slot of one case with its state on `today`, in the order of the plan; none when the plan has ended. Done is a
 * slot with its visit and with the evidence that it needs.
 */
export function slotStatesOf(followed: FollowedCase, today: CalendarDay): WorklistItem[] {
  if (isPlanEnded(followed, today)) return [];
  const { plan, procedureId, caseCode } = followed;
  return plan.flatMap((planned): WorklistItem[] => {
    const lacking = lackOf(planned, followed);
    if (lacking === null) return [];
    const item = { ...planned, ...lacking, procedureId, caseCode, daysOverdue: 0 };
    if (today < planned.opensOn)
      return [{ ...item, state: 'upcoming', daysLeft: daysBetween(today, planned.opensOn) }];
    if (today <= planned.closesOn)
      return [{ ...item, state: 'in-window', daysLeft: daysBetween(today, planned.closesOn) }];
    const missedOn = missedFrom(planned, plan);
    const daysOverdue = daysBetween(planned.closesOn, today);
    return [
      today >= missedOn
        ? { ...item, state: 'missed', daysOverdue, daysLeft: 0 }
        : { ...item, state: 'overdue', daysOverdue, daysLeft: daysBetween(today, missedOn) },
    ];
  });
}

function lackOf(
  planned: PlannedSlot,
  { performedOn, visits, recordings }: FollowedCase,
): Pick<WorklistItem, 'awaits' | 'visitId'> | null {
  const ids = visits.filter(({ slot }) => slot === planned.slot.code).map(({ id }) => id);
  const [latest] = ids;
  if (latest === undefined) return { awaits: 'contact', visitId: null };
  return hasEvidence(planned, toEpochDay(performedOn), ids, recordings)
    ? null
    : { awaits: 'recording', visitId: latest };
}

/**
 * What the lab should do about follow-up on `today`. `horizonDays`: how far ahead upcoming slots are listed.
 * Order: overdue safety calls (a harm may go unseen); windows that close within 7 days; overdue visits, those nearest to
 * being missed first; other open windows; upcoming. Within each: fewest days left, then calls before visits.
 */
export function worklistOf(cases: readonly FollowedCase[], today: CalendarDay, horizonDays = 30): Worklist {
  const states = cases.flatMap((followed) => slotStatesOf(followed, today));
  const isListed = (item: WorklistItem) => item.state !== 'upcoming' || item.daysLeft <= horizonDays;
  const beyond = states
    .filter((item) => item.state !== 'missed' && !isListed(item))
    .map((item) => item.opensOn);
  return {
    items: states.filter((item) => item.state !== 'missed' && isListed(item)).sort(byLoss),
    missed: states.filter((item) => item.state === 'missed').sort(byLoss),
    ended: cases.filter((followed) => isPlanEnded(followed, today)).length,
    nextOpensOn: beyond.sort()[0] ?? null,
  };
}

function tierOf({ state, slot, daysLeft }: WorklistItem): number {
  if (state === 'overdue') return slot.kind === 'safety-call' ? 0 : 2;
  if (state === 'in-window') return daysLeft <= CLOSING_SOON_DAYS ? 1 : 3;
  return state === 'upcoming' ? 4 : 5;
}

const compareText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

function byLoss(a: WorklistItem, b: WorklistItem): number {
  return (
    tierOf(a) - tierOf(b) ||
    a.daysLeft - b.daysLeft ||
    compareText(a.slot.kind, b.slot.kind) ||
    compareText(a.dueOn, b.dueOn) ||
    compareText(a.caseCode, b.caseCode) ||
    compareText(a.slot.code, b.slot.code)
  );
}

/** What is lost if nothing happens today, in one sentence. */
export function lossOf(item: WorklistItem): string {
  const days = (count: number) => (count === 1 ? '1 day' : `${count} days`);
  switch (item.state) {
    case 'in-window':
      return item.daysLeft === 0
        ? 'The window closes today.'
        : `The window closes in ${days(item.daysLeft)}.`;
    case 'overdue':
      return `${days(item.daysOverdue)} overdue; counted as missed in ${days(item.daysLeft)}.`;
    case 'upcoming':
      return `The window opens in ${days(item.daysLeft)}.`;
    case 'missed':
      return `Missed: the window closed ${days(item.daysOverdue)} ago.`;
  }
}
