import 'server-only';
import { createHash } from 'node:crypto';
import { ApplicationError } from '../../runtime/application-error';
import { now } from '../../runtime/clock';
import { actorOfProgram } from '../actor-of-program';
import { record } from '../record';
import { insertUser, type NewUser } from './write';

/**
 * Makes the first administrator from a one-time link: the link is used up in the same transaction, so two people with it
 * get one account. Throws forbidden for a link that is unknown, used or expired, or when an administrator exists.
 */
export async function createFirstAdministrator(
  token: string,
  user: Omit<NewUser, 'role'>,
): Promise<{ id: string }> {
  const tokenHash = new Uint8Array(createHash('sha256').update(token).digest());
  const actor = await actorOfProgram('first-run');
  return record(actor, { action: 'user.create', reason: 'entered' }, async (open) => {
    const used = await open.tx.setupLink.updateMany({
      where: { tokenHash, usedAt: null, expiresAt: { gt: now() } },
      data: { usedAt: now() },
    });
    const administrators = await open.tx.user.count({ where: { role: 'administrator', disabledAt: null } });
    if (used.count !== 1 || administrators > 0) {
      throw new ApplicationError(
        'forbidden',
        'This link is not valid any more. Start the lab again for a new one.',
      );
    }
    return insertUser(open, { ...user, role: 'administrator' });
  });
}
