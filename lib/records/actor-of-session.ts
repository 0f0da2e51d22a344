import 'server-only';
import { ROLES, type Role } from '../registry/vocabulary';
import type { Actor } from './actor';
import { sealActor } from './actor-seal';
import { database } from './database';

const isRole = (text: string): text is Role => ROLES.some((role) => role.code === text);

/**
 * The person behind a session, read anew from the database: null when the account is gone, disabled, or the session was
 * made before the last change of password or role (token version). Only access may call it.
 */
export async function actorOfSession(userId: string, tokenVersion: number): Promise<Actor | null> {
  const user = await database().user.findFirst({ where: { id: userId } });
  if (!user || user.disabledAt !== null || user.tokenVersion !== tokenVersion || !isRole(user.role))
    return null;
  return sealActor({ labId: user.labId, kind: 'person', id: user.id, code: user.code, role: user.role });
}
