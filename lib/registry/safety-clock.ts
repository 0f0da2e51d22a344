import { addDays, type CalendarDay, daysBetween } from './calendar-day';
import { DEFAULT_SLOTS, type PlannedSlot, planOf } from './follow-up-schedule';

/** Days on which harm is asked for. A case can be complete only after the last of them. */
export const SAFETY_CHECK_DAYS = [7, 30, 60, 90] as const;
const LAST_CHECK_DAY = 90;

type CheckState =
  /** Its own visit took place. */
  | 'done'
  /** It was missed, but a later check asked back to the procedure. */
  | 'made-good'
  | 'upcoming'
  | 'in-window'
  /** Its window has closed; it can still be made good. */
  | 'overdue'
  /** Nobody can be asked any more. */
  | 'not-possible';

export interface SafetyCheck {
  readonly day: (typeof SAFETY_CHECK_DAYS)[number];
  readonly slot: string;
  readonly dueOn: CalendarDay;
  readonly state: CheckState;
  /** The day on which harm was asked for; null when it was not. */
  readonly askedOn: CalendarDay | null;
}

type ClockState =
  | 'complete'
  /** The patient died by day 90: nothing more can happen. */
  | 'closed-by-death'
  /** Not yet past day 90. */
  | 'running'
  /** Past day 90, and a check is missing. */
  | 'incomplete'
  /** Consent, transfer, a next procedure or a later death ended the asking with a check missing. */
  | 'ended';

export interface SafetyClock {
  /** Whole days since the procedure. */
  readonly day: number;
  readonly state: ClockState;
  readonly checks: readonly SafetyCheck[];
  readonly sentence: string;
}

export interface ClockedCase {
  readonly performedOn: CalendarDay;
  /** The case's plan: its windows say how early a check may be made. */
  readonly plan: readonly PlannedSlot[];
  readonly visits: readonly { readonly slot: string; readonly visitedOn: CalendarDay }[];
  readonly diedOn: CalendarDay | null;
  readonly consentWithdrawnOn: CalendarDay | null;
  readonly transferredOn: CalendarDay | null;
  readonly nextPerformedOn: CalendarDay | null;
}

/**
 * How far harm has been asked for after one procedure. Complete only after day 90 and with all checks done: a missed one is
 * made good by a later check, since each asks back to the procedure; a visit of another kind is no check, and one before
 * the window of its check does not count. Death by day 90 closes the clock; what ends the plan later leaves it incomplete.
 */
export function safetyClockOf(clocked: ClockedCase, today: CalendarDay): SafetyClock {
  const day = daysBetween(clocked.performedOn, today);
  const end = endOf(clocked, today);
  const checks = checksOf(clocked, today, end !== null);
  const missing = checks.filter(({ state }) => state !== 'done' && state !== 'made-good');
  const state = stateOf(clocked, today, missing.length === 0, end);
  return { day, state, checks, sentence: sentenceOf(state, day, missing, end) };
}

function checksOf(clocked: ClockedCase, today: CalendarDay, hasEnded: boolean): SafetyCheck[] {
  const plan = safetyPlanOf(clocked.performedOn, clocked.plan);
  const asked = plan.map(({ slot, opensOn }) => askedOn(slot.code, opensOn, clocked.visits));
  return plan.map(({ slot, opensOn, closesOn }, index): SafetyCheck => {
    const own = asked[index] ?? null;
    const later = asked.slice(index + 1).find((visitedOn) => visitedOn !== null) ?? null;
    const open = today < opensOn ? 'upcoming' : today <= closesOn ? 'in-window' : 'overdue';
    const unasked = hasEnded ? 'not-possible' : open;
    return {
      day: SAFETY_CHECK_DAYS[index],
      slot: slot.code,
      dueOn: addDays(clocked.performedOn, SAFETY_CHECK_DAYS[index]),
      state: own !== null ? 'done' : later !== null ? 'made-good' : unasked,
      askedOn: own ?? later,
    };
  });
}

function stateOf(clocked: ClockedCase, today: CalendarDay, isAllDone: boolean, end: End | null): ClockState {
  const { performedOn, diedOn } = clocked;
  if (diedOn !== null && diedOn <= today && daysBetween(performedOn, diedOn) <= LAST_CHECK_DAY) {
    return 'closed-by-death';
  }
  const isOver = daysBetween(performedOn, today) > LAST_CHECK_DAY;
  if (isAllDone) return isOver ? 'complete' : 'running';
  if (end !== null) return 'ended';
  return isOver ? 'incomplete' : 'running';
}

/**
 * The checks as they are planned: the lab's own slot where it has one, else the usual one. A schedule without it does not
 * spare the check.
 */
export function safetyPlanOf(performedOn: CalendarDay, plan: readonly PlannedSlot[]): PlannedSlot[] {
  const usual = planOf(performedOn, DEFAULT_SLOTS);
  return SAFETY_CHECK_DAYS.map((day) => {
    const planned = [...plan, ...usual].find(({ slot }) => slot.code === `day-${day}`);
    if (!planned) throw new Error(`the default schedule has no slot day-${day}`);
    return planned;
  });
}

function askedOn(slot: string, opensOn: CalendarDay, visits: ClockedCase['visits']): CalendarDay | null {
  const days = visits
    .filter((visit) => visit.slot === slot && visit.visitedOn >= opensOn)
    .map(({ visitedOn }) => visitedOn);
  return days.sort()[0] ?? null;
}

type End = { readonly by: 'death' | 'withdrawal' | 'transfer' | 'next procedure'; readonly on: CalendarDay };

/** What came first of all that ends the asking, by `today`. A next procedure has a clock of its own. */
function endOf(clocked: ClockedCase, today: CalendarDay): End | null {
  const ends: [End['by'], CalendarDay | null][] = [
    ['death', clocked.diedOn],
    ['withdrawal', clocked.consentWithdrawnOn],
    ['transfer', clocked.transferredOn],
    ['next procedure', clocked.nextPerformedOn],
  ];
  return ends
    .flatMap(([by, on]): End[] => (on !== null && on <= today ? [{ by, on }] : []))
    .reduce<End | null>((first, end) => (first === null || end.on < first.on ? end : first), null);
}

function sentenceOf(
  state: ClockState,
  day: number,
  missing: readonly SafetyCheck[],
  end: End | null,
): string {
  const days = missing.map((check) => `day ${check.day}`);
  const listed = days.length < 2 ? days.join() : `${days.slice(0, -1).join(', ')} and ${days.at(-1)}`;
  switch (state) {
    case 'complete':
      return 'Harm was asked for through day 90.';
    case 'closed-by-death':
      return 'Closed by death by day 90: nothing more can happen.';
    case 'running':
      return missing.length === 0
        ? `Day ${day}. Every check is done; the case is complete after day ${LAST_CHECK_DAY}.`
        : `Day ${day}, complete after day ${LAST_CHECK_DAY} at the earliest. Still to ask: ${listed}.`;
    case 'incomplete':
      return `No check of ${listed}.`;
    case 'ended':
      return `No check of ${listed}, and the ${end?.by} on ${end?.on} ended the asking.`;
  }
}
