import 'server-only';
import { randomUUID } from 'node:crypto';
import type { CalendarDay } from '../../registry/calendar-day';
import { checkSchedule } from '../../registry/forms/schedule-checks';
import { type ScheduleSave, slotsOfForm, strategyOfScope } from '../../registry/forms/schedule-form';
import { newestOf } from '../../registry/schedule-versions';
import { ApplicationError } from '../../runtime/application-error';
import type { Actor } from '../actor';
import { dateFromDay } from '../day-edge';
import { type FormRequest, type OpenWrite, record } from '../record';
import { scheduleOf } from './read';

export type WrittenSchedule = { readonly id: string; readonly versionNumber: number };

/**
 * Stores a new version of a schedule. Versions are numbered one after the other under a lock of the lab: refused when
 * somebody else has made one since `follows`, or when it would reach back. Nothing stored is changed.
 */
export function recordSchedule(
  actor: Actor,
  form: ScheduleSave,
  today: CalendarDay,
  request: FormRequest,
): Promise<WrittenSchedule> {
  const order = { action: 'schedule.record', reason: 'entered', request };
  return record<WrittenSchedule>(actor, order, async (open) => {
    const { tx, labId, note } = open;
    const strategy = strategyOfScope(form.scope);
    const schedules = await lockSchedules(open);
    const newest = newestOf(strategy, schedules)?.versionNumber ?? 0;
    if (newest !== form.follows) {
      throw new ApplicationError(
        'conflict',
        `Version ${newest} was made meanwhile, and what moves was shown against ${form.follows === 0 ? 'none' : `version ${form.follows}`}. Reload this page to see what moves now; your entries are kept.`,
      );
    }
    const refused = checkSchedule(form, { today, schedules }).filter(({ kind }) => kind === 'refusal');
    if (refused.length > 0) throw new ApplicationError('invalid', refused[0]?.message ?? '', refused);
    const id = randomUUID();
    const row = await tx.followUpSchedule.create({
      data: {
        labId,
        id,
        strategy,
        versionNumber: newest + 1,
        effectiveOn: dateFromDay(form.effectiveOn),
        slots: slotsOfForm(form).map((slot) => ({ ...slot })),
        createdById: actor.kind === 'person' ? actor.id : null,
      },
    });
    note({ entity: 'follow_up_schedules', entityId: id, patientId: null, before: null, after: row });
    return { id, versionNumber: row.versionNumber };
  });
}

/** Two people who make a version at once are put one after the other; the second then sees the first. */
async function lockSchedules({ tx, labId }: OpenWrite) {
  await tx.$queryRaw`SELECT 1 FROM labs WHERE id = ${labId}::uuid FOR UPDATE`;
  return (await tx.followUpSchedule.findMany({ where: { labId } })).map(scheduleOf);
}
