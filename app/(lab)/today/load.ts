import 'server-only';
import { z } from 'zod';
import { requireActor } from '@/app/require-actor';
import { isAllowed } from '@/lib/access/permissions';
import { readCasesInState, type UnfinishedCase } from '@/lib/records/case-states/unfinished';
import { readFollowedCases } from '@/lib/records/cases/followed';
import { type OpenComplication, readOpenComplications } from '@/lib/records/complications/read';
import { type CalendarDay, calendarDay } from '@/lib/registry/calendar-day';
import { type WorklistItem, worklistOf } from '@/lib/registry/worklist';
import { todayText } from '@/lib/runtime/clock';

const PAGE = 50;
const SHOWN_DRAFTS = 5;
const STATES = ['overdue', 'in-window', 'upcoming', 'missed'] as const;
export type ShownState = (typeof STATES)[number];

const querySchema = z.object({
  show: z.enum(STATES).optional().catch(undefined),
  page: z.coerce.number().int().min(1).max(10_000).catch(1),
});

export interface TodayPage {
  readonly today: CalendarDay;
  readonly show: ShownState | undefined;
  readonly counts: Readonly<Record<ShownState, number>>;
  readonly items: readonly WorklistItem[];
  readonly from: number;
  readonly total: number;
  readonly page: number;
  readonly hasNext: boolean;
  readonly cases: number;
  readonly ended: number;
  readonly closingThisWeek: number;
  readonly nextOpensOn: CalendarDay | null;
  readonly mayEnter: boolean;
  /** Complications of the whole lab: those to adjudicate, and those not yet resolved, the longest known first. */
  readonly toAdjudicate: readonly OpenComplication[];
  readonly unresolved: readonly OpenComplication[];
  readonly viewerId: string;
  /** Cases not finished: the oldest drafts, how many there are, and how many wait for a signature. */
  readonly drafts: { readonly total: number; readonly rows: readonly UnfinishedCase[] };
  readonly unsigned: number;
}

/** The day's list: what is due, in which order, and how many of each kind. */
export async function loadToday(params: Record<string, string | string[] | undefined>): Promise<TodayPage> {
  const actor = await requireActor('today.read');
  const { show, page } = querySchema.parse(params);
  const today = calendarDay(todayText());
  const [followed, complications, drafts, unsigned] = await Promise.all([
    readFollowedCases(actor),
    readOpenComplications(actor),
    readCasesInState(actor, 'draft', 0, SHOWN_DRAFTS),
    readCasesInState(actor, 'entered', 0, 0),
  ]);
  const { items, missed, ended, nextOpensOn } = worklistOf(followed, today);
  const of = (state: ShownState) =>
    state === 'missed' ? missed : items.filter((item) => item.state === state);
  const needed = items.filter((item) => item.state !== 'upcoming');
  const shown = show ? of(show) : needed;
  const start = (page - 1) * PAGE;
  return {
    today,
    show,
    counts: {
      overdue: of('overdue').length,
      'in-window': of('in-window').length,
      upcoming: of('upcoming').length,
      missed: missed.length,
    },
    items: shown.slice(start, start + PAGE),
    from: start + 1,
    total: shown.length,
    page,
    hasNext: start + PAGE < shown.length,
    cases: followed.length,
    ended,
    closingThisWeek: items.filter((item) => item.state === 'in-window' && item.daysLeft <= 7).length,
    nextOpensOn: earliest(nextOpensOn, items),
    mayEnter: isAllowed(actor.role, 'visit.write'),
    ...complications,
    viewerId: actor.id,
    drafts,
    unsigned: unsigned.total,
  };
}

/** The first day on which something opens: among the upcoming that are listed, else beyond them. */
function earliest(beyond: CalendarDay | null, items: readonly WorklistItem[]): CalendarDay | null {
  const listed = items.filter((item) => item.state === 'upcoming').map((item) => item.opensOn);
  return [...listed, ...(beyond ? [beyond] : [])].sort()[0] ?? null;
}
