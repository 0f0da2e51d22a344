import 'server-only';
import { randomUUID } from 'node:crypto';
import type { Role } from '../../registry/vocabulary';
import { ApplicationError } from '../../runtime/application-error';
import type { Actor } from '../actor';
import { Prisma } from '../database';
import { type OpenWrite, record } from '../record';

export interface NewUser {
  /** Typed at sign-in; unique over all labs. */
  readonly signInName: string;
  /** Shown instead of a name: 'C-01'. */
  readonly code: string;
  readonly role: Role;
  /** argon2id, encoded. */
  readonly passwordHash: string;
}

/** Opens an account. Throws invalid when the sign-in name or code is taken. */
export async function createUser(actor: Actor, user: NewUser): Promise<{ id: string }> {
  try {
    return await record(actor, { action: 'user.create', reason: 'entered' }, (open) =>
      insertUser(open, user),
    );
  } catch (error) {
    if (error instanceof Prisma.PrismaClientKnownRequestError && error.code === 'P2002') {
      throw new ApplicationError('invalid', 'That sign-in name or code is taken; choose another.', [
        { field: 'signInName', message: 'That sign-in name or code is taken; choose another.' },
      ]);
    }
    throw error;
  }
}

/** Inserts the account and notes it without its password hash: the trail holds no secret. */
export async function insertUser(open: OpenWrite, user: NewUser): Promise<{ id: string }> {
  const id = randomUUID();
  await open.tx.user.create({ data: { labId: open.labId, id, ...user } });
  const { passwordHash: _hidden, ...shown } = user;
  open.note({ entity: 'users', entityId: id, patientId: null, before: null, after: shown });
  return { id };
}
