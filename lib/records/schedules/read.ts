import 'server-only';
import { storedSlotsSchema } from '../../registry/follow-up-schedule';
import type { FollowUpSchedule } from '../../registry/schedule-versions';
import type { Actor } from '../actor';
import { database } from '../database';
import { dayFromDateOrNull } from '../day-edge';
import type * as Models from '../generated/client';

/** A version of a schedule with who made it and when. */
export interface StoredSchedule extends FollowUpSchedule {
  readonly id: string;
  /** UTC instant. */
  readonly madeAt: string;
  /** Code of the person; null when the lab was set up with it. */
  readonly madeBy: string | null;
}

/** Every version of every follow-up schedule of the lab, in the order in which they were made; which holds: `versionsFor`. */
export async function readSchedules(actor: Actor): Promise<FollowUpSchedule[]> {
  return (await rowsOf(actor)).map(scheduleOf);
}

/** The same with who made each version, and when. */
export async function readStoredSchedules(actor: Actor): Promise<StoredSchedule[]> {
  const rows = await rowsOf(actor);
  const people = await database().user.findMany({
    where: { labId: actor.labId, id: { in: rows.flatMap(({ createdById }) => createdById ?? []) } },
    select: { id: true, code: true },
  });
  const codes = new Map(people.map(({ id, code }) => [id, code]));
  return rows.map((row) => ({
    ...scheduleOf(row),
    id: row.id,
    madeAt: row.createdAt.toISOString(),
    madeBy: codes.get(row.createdById ?? '') ?? null,
  }));
}

const rowsOf = ({ labId }: Actor) =>
  database().followUpSchedule.findMany({
    where: { labId },
    orderBy: [{ createdAt: 'asc' }, { versionNumber: 'asc' }],
  });

export const scheduleOf = (row: Models.FollowUpSchedule): FollowUpSchedule => ({
  strategy: row.strategy,
  versionNumber: row.versionNumber,
  effectiveOn: dayFromDateOrNull(row.effectiveOn),
  slots: storedSlotsSchema.parse(row.slots),
});
