import 'server-only';
import { ApplicationError } from '../runtime/application-error';
import type { Actor } from './actor';
import { sealActor } from './actor-seal';
import { database } from './database';

/**
 * A program that acts without a session (seed, import, rebuild), in the only lab or the one named.
 * Throws not-found when there is no lab, invalid when there are several and none is named.
 */
export async function actorOfProgram(name: string, labId?: string): Promise<Actor> {
  const labs = await database().lab.findMany({
    take: 2,
    ...(labId === undefined ? {} : { where: { id: labId } }),
  });
  const [lab, other] = labs;
  if (!lab)
    throw new ApplicationError('not-found', 'There is no lab yet. Start the lab once, then try again.');
  if (other) throw new ApplicationError('invalid', 'There are several labs. Name one with --lab=ID.');
  return sealActor({ labId: lab.id, kind: 'program', id: name, code: name, role: 'program' });
}
