import 'server-only';
import { requireActor } from '@/app/require-actor';
import { type EarlyView, earlyCases, earlyRecurrenceView } from '@/lib/analysis/follow-up/early-recurrence';
import { readCohort } from '@/lib/records/cohort';
import { readEndpointDefinitions } from '@/lib/records/endpoint-definitions/read';
import { calendarDay } from '@/lib/registry/calendar-day';
import { RecentCache } from '@/lib/runtime/cache';
import { todayText } from '@/lib/runtime/clock';

const PAGE = 50;

async function open() {
  const actor = await requireActor('outcomes.read');
  const [cohort, [definition]] = await Promise.all([readCohort(actor), readEndpointDefinitions(actor)]);
  const today = calendarDay(todayText());
  const key = JSON.stringify([actor.labId, cohort.dataVersion, definition, today]);
  return { cohort, definition, today, key };
}

const views = new RecentCache<EarlyView>(8);

/** Early recurrence of the lab under its first definition; undefined without a definition. */
export async function loadEarlyRecurrence() {
  const { cohort, definition, today, key } = await open();
  const known = views.get(key);
  if (known || !definition) return known;
  const view = earlyRecurrenceView(cohort, definition, today);
  views.set(key, view);
  return view;
}

type Params = Readonly<Record<string, string | string[] | undefined>>;

/** The cases behind one number of the page; undefined when the address names none. */
export async function loadEarlyCases(params: Params) {
  const { cohort, definition, today } = await open();
  const { set } = params;
  const cases =
    definition && typeof set === 'string' ? earlyCases(cohort, definition, today, set) : undefined;
  if (!cases || typeof set !== 'string') return undefined;
  const pages = Math.max(1, Math.ceil(cases.length / PAGE));
  const page = Math.min(pages, Math.max(1, Number.parseInt(String(params.page), 10) || 1));
  const start = (page - 1) * PAGE;
  const href = (number: number) => `/outcomes/early-recurrence/cases?set=${set}&page=${number}`;
  return {
    total: cases.length,
    from: cases.length === 0 ? 0 : start + 1,
    cases: cases.slice(start, start + PAGE),
    previousHref: page > 1 ? href(page - 1) : undefined,
    nextHref: page < pages ? href(page + 1) : undefined,
  };
}
