import 'server-only';
import { storedSlotsSchema } from '../../registry/follow-up-schedule';
import type { FollowUpSchedule } from '../../registry/schedule-versions';
import type { Actor } from '../actor';
import { database } from '../database';
import { dayFromDateOrNull } from '../day-edge';

/** Every version of every follow-up schedule of the lab; which holds for a strategy: `versionsFor`. */
export async function readSchedules(actor: Actor): Promise<FollowUpSchedule[]> {
  const rows = await database().followUpSchedule.findMany({ where: { labId: actor.labId } });
  return rows.map((row) => ({
    strategy: row.strategy,
    versionNumber: row.versionNumber,
    effectiveOn: dayFromDateOrNull(row.effectiveOn),
    slots: storedSlotsSchema.parse(row.slots),
  }));
}
