import 'server-only';
import { notFound } from 'next/navigation';
import { z } from 'zod';
import { requireActor } from '@/app/require-actor';
import { isAllowed } from '@/lib/access/permissions';
import type { Actor } from '@/lib/records/actor';
import { readFollowedRecords } from '@/lib/records/cases/followed';
import { readDraft } from '@/lib/records/drafts/read';
import { readStoredSchedules, type StoredSchedule } from '@/lib/records/schedules/read';
import { type CalendarDay, calendarDay } from '@/lib/registry/calendar-day';
import { checkSchedule } from '@/lib/registry/forms/schedule-checks';
import {
  entriesOfSlots,
  FOR_ALL,
  SCHEDULE_SCOPES,
  type ScheduleForm,
  type ScheduleFormInput,
  scheduleFormSchema,
  slotsOfForm,
  strategyOfScope,
  typedOfForm,
} from '@/lib/registry/forms/schedule-form';
import {
  countMoves,
  lineOfMove,
  type MoveCount,
  type ScheduleMove,
  scheduleMoves,
} from '@/lib/registry/schedule-moves';
import { type FollowUpSchedule, newestOf, versionsFor } from '@/lib/registry/schedule-versions';
import { isPlanEnded } from '@/lib/registry/worklist';
import { todayText } from '@/lib/runtime/clock';

const today = () => calendarDay(todayText());
const PAGE = 50;
type Params = Record<string, string | string[] | undefined>;

/** Every schedule of the lab, and whether this person may make a version. */
export async function loadSchedules() {
  const actor = await requireActor('lab.read');
  const schedules = await readStoredSchedules(actor);
  return { schedules, today: today(), mayWrite: isAllowed(actor.role, 'schedule.write') };
}

const formQuery = z.object({
  for: z.enum(SCHEDULE_SCOPES.map(({ code }) => code)).catch(FOR_ALL),
  again: z.literal('1').optional().catch(undefined),
});

/** What the form of a new version begins with: what holds now, or what was looked at. */
export async function loadScheduleForm(params: Params) {
  const actor = await requireActor('schedule.write');
  const { for: scope, again } = formQuery.parse(params);
  const [schedules, draft] = await Promise.all([
    readStoredSchedules(actor),
    readDraft(actor, 'schedule', actor.labId),
  ]);
  const looked = again === undefined ? null : scheduleFormSchema.safeParse(draft?.values);
  const slots = versionsFor(strategyOfScope(scope), schedules).at(-1)?.slots ?? [];
  const values: ScheduleFormInput = looked?.success
    ? typedOfForm(looked.data)
    : { scope, effectiveOn: today(), course: 'own', slots: entriesOfSlots(slots) };
  return {
    labId: actor.labId,
    values,
    draft: looked?.success ? null : draft,
    context: { today: today(), schedules },
  };
}

const listQuery = z.object({
  show: z.string().max(200).optional().catch(undefined),
  page: z.coerce.number().int().min(1).max(10_000).catch(1),
});

/** What a version moves: how many cases each change concerns, and the cases of one of them. */
export interface MovesShown {
  readonly counts: readonly MoveCount[];
  readonly casesMoved: number;
  readonly casesRunning: number;
  /** The change whose cases are listed; null when none is asked for. */
  readonly shown: {
    readonly count: MoveCount;
    readonly key: string;
    readonly moves: readonly ScheduleMove[];
  } | null;
  readonly page: number;
  readonly pageSize: number;
}

async function readMoves(
  actor: Actor,
  before: readonly FollowUpSchedule[],
  after: readonly FollowUpSchedule[],
  on: CalendarDay,
  params: Params,
): Promise<MovesShown> {
  const { show, page } = listQuery.parse(params);
  const cases = await readFollowedRecords(actor);
  const moves = scheduleMoves(cases, before, after, on);
  const byKey = new Map<string, ScheduleMove[]>();
  for (const move of moves) {
    const list = byKey.get(lineOfMove(move));
    if (list) list.push(move);
    else byKey.set(lineOfMove(move), [move]);
  }
  const listed = show === undefined ? undefined : byKey.get(show);
  const [count] = listed ? countMoves(listed) : [];
  return {
    counts: countMoves(moves),
    casesMoved: new Set(moves.map(({ procedureId }) => procedureId)).size,
    casesRunning: cases.filter(({ followed }) => !isPlanEnded(followed, on)).length,
    shown:
      listed && count && show !== undefined
        ? { count, key: show, moves: listed.slice((page - 1) * PAGE, page * PAGE) }
        : null,
    page,
    pageSize: PAGE,
  };
}

/** The version that this person is about to store, with what it would move; null when there is no such draft. */
export async function loadPreview(params: Params) {
  const actor = await requireActor('schedule.write');
  const [schedules, draft] = await Promise.all([
    readStoredSchedules(actor),
    readDraft(actor, 'schedule', actor.labId),
  ]);
  const form = scheduleFormSchema.safeParse(draft?.values);
  if (!form.success) return null;
  const context = { today: today(), schedules };
  const version = versionOf(form.data, schedules);
  return {
    form: form.data,
    version,
    previous: previousOf(version, schedules),
    findings: checkSchedule(form.data, context),
    moves: await readMoves(actor, schedules, [...schedules, version], today(), params),
  };
}

function versionOf(form: ScheduleForm, schedules: readonly FollowUpSchedule[]): FollowUpSchedule {
  const strategy = strategyOfScope(form.scope);
  return {
    strategy,
    versionNumber: (newestOf(strategy, schedules)?.versionNumber ?? 0) + 1,
    effectiveOn: form.effectiveOn,
    slots: slotsOfForm(form),
  };
}

/** What a version is compared with: what held for its cases until it was made. Null for the first version of the lab. */
function previousOf(version: FollowUpSchedule, made: readonly FollowUpSchedule[]) {
  return made.length === 0 ? null : (versionsFor(version.strategy, made).at(-1)?.slots ?? null);
}

const idSchema = z.uuid();

/** A stored version with what it moves among the cases of today. */
export async function loadVersion(typedId: string, params: Params) {
  const actor = await requireActor('lab.read');
  const id = idSchema.safeParse(typedId);
  const schedules = await readStoredSchedules(actor);
  const index = id.success ? schedules.findIndex((schedule) => schedule.id === id.data) : -1;
  const version: StoredSchedule | undefined = schedules[index];
  if (!version) notFound();
  const before = schedules.slice(0, index);
  return {
    version,
    previous: previousOf(version, before),
    moves:
      version.effectiveOn === null
        ? null
        : await readMoves(actor, before, schedules.slice(0, index + 1), today(), params),
  };
}
