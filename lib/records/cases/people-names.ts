import 'server-only';
import { labelOf, ROLES } from '../../registry/vocabulary';
import { database } from '../database';

/** Code and role of everybody of a lab, by id: 'P-01, physician'. */
export async function readPeopleNames(labId: string): Promise<ReadonlyMap<string, string>> {
  const people = await database().user.findMany({
    where: { labId },
    select: { id: true, code: true, role: true },
  });
  return new Map(people.map(({ id, code, role }) => [id, `${code}, ${labelOf(ROLES, role).toLowerCase()}`]));
}
