import 'server-only';
import { z } from 'zod';
import { requireActor } from '@/app/require-actor';
import { readCasesInState } from '@/lib/records/case-states/unfinished';
import { calendarDay } from '@/lib/registry/calendar-day';
import { todayText } from '@/lib/runtime/clock';

const PAGE = 50;

const querySchema = z.object({
  state: z.enum(['draft', 'entered']).catch('draft'),
  page: z.coerce.number().int().min(1).max(100_000).catch(1),
});

/** One screenful of the cases in draft, or of those entered and not signed. */
export async function loadUnfinished(params: Record<string, string | string[] | undefined>) {
  const actor = await requireActor('today.read');
  const { state, page } = querySchema.parse(params);
  const skip = (page - 1) * PAGE;
  const other: typeof state = state === 'draft' ? 'entered' : 'draft';
  const [shown, rest] = await Promise.all([
    readCasesInState(actor, state, skip, PAGE),
    readCasesInState(actor, other, 0, 0),
  ]);
  return {
    state,
    other,
    page,
    rows: shown.rows,
    total: shown.total,
    otherTotal: rest.total,
    from: skip + 1,
    hasNext: skip + shown.rows.length < shown.total,
    today: calendarDay(todayText()),
  };
}
