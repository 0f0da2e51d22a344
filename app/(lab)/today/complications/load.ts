import 'server-only';
import { requireActor } from '@/app/require-actor';
import { readOpenComplications } from '@/lib/records/complications/read';
import { calendarDay } from '@/lib/registry/calendar-day';
import { todayText } from '@/lib/runtime/clock';

/** What the lab has to do about complications today. */
export async function loadOpenComplications() {
  const actor = await requireActor('today.read');
  const open = await readOpenComplications(actor);
  return { ...open, today: calendarDay(todayText()), viewerId: actor.id };
}
