import 'server-only';
import { type FollowUpSchedule, scheduleSlotsSchema } from '../../registry/follow-up-schedule';
import type { Actor } from '../actor';
import { database } from '../database';

/** Every version of every follow-up schedule of the lab; which holds for a strategy: `slotsFor`. */
export async function readSchedules(actor: Actor): Promise<FollowUpSchedule[]> {
  const rows = await database().followUpSchedule.findMany({ where: { labId: actor.labId } });
  return rows.map((row) => ({
    strategy: row.strategy,
    versionNumber: row.versionNumber,
    slots: scheduleSlotsSchema.parse(row.slots),
  }));
}
