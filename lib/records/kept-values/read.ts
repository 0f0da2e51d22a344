import 'server-only';
import type { Actor } from '../actor';
import { database } from '../database';

/** Which form of a case a kept value belongs to, apart from procedure and baseline, whose paths stand alone. */
export const keptPrefix = {
  complication: (id: string) => `complication/${id}`,
  verdict: (id: string) => `verdict/${id}`,
  readmission: (id: string) => `readmission/${id}`,
} as const;

export interface KeptReason {
  readonly field: string;
  readonly reason: string;
}

/** The unusual values of one form that were kept, by path, with the reason. */
export async function readKeptValues(
  actor: Actor,
  procedureId: string,
  prefix: string,
): Promise<KeptReason[]> {
  const rows = await database().keptValue.findMany({
    where: { labId: actor.labId, procedureId, field: { startsWith: `${prefix}:` } },
    orderBy: { field: 'asc' },
  });
  return rows.map(({ field, reason }) => ({ field: field.slice(prefix.length + 1), reason }));
}
