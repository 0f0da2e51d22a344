import 'server-only';
import { type EndpointDefinition, endpointRulesSchema } from '../../registry/endpoint-definition';
import type { Actor } from '../actor';
import { database } from '../database';

/** The newest version of each endpoint definition of the lab, in the order in which they were first made. */
export async function readEndpointDefinitions(actor: Actor): Promise<EndpointDefinition[]> {
  const rows = await database().endpointDefinition.findMany({
    where: { labId: actor.labId },
    orderBy: [{ createdAt: 'asc' }, { name: 'asc' }, { versionNumber: 'asc' }],
  });
  const newest = new Map<string, EndpointDefinition>();
  for (const row of rows) {
    newest.set(row.name, {
      id: row.id,
      name: row.name,
      versionNumber: row.versionNumber,
      madeOn: row.createdAt.toISOString().slice(0, 10),
      note: row.note,
      rules: endpointRulesSchema.parse(row.rules),
    });
  }
  return [...newest.values()];
}
