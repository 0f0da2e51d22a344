import 'server-only';
import { ApplicationError } from '../../runtime/application-error';
import { now } from '../../runtime/clock';
import { actorOfSetupLink, hashOfSetupToken } from '../actor-of-setup-link';
import { record } from '../record';
import { insertUser, type NewUser } from './write';

const NOT_VALID = 'This link is not valid any more. Start the lab again for a new one.';

/**
 * Makes the first administrator from a one-time link: the link is used up in the same transaction, so two people with it
 * get one account. Throws forbidden for a link that is unknown, used or expired, or when an administrator exists.
 */
export async function createFirstAdministrator(
  token: string,
  user: Omit<NewUser, 'role'>,
): Promise<{ id: string }> {
  const actor = await actorOfSetupLink(token);
  if (!actor) throw new ApplicationError('forbidden', NOT_VALID);
  return record(actor, { action: 'user.create', reason: 'entered' }, async (open) => {
    const used = await open.tx.setupLink.updateMany({
      where: { tokenHash: hashOfSetupToken(token), usedAt: null, expiresAt: { gt: now() } },
      data: { usedAt: now() },
    });
    const administrators = await open.tx.user.count({ where: { role: 'administrator', disabledAt: null } });
    if (used.count !== 1 || administrators > 0) {
      throw new ApplicationError('forbidden', NOT_VALID);
    }
    return insertUser(open, { ...user, role: 'administrator' });
  });
}
