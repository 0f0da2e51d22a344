import 'server-only';
import type { Actor } from '../actor';
import { database } from '../database';
import type { FormRequest } from '../record';

/**
 * Whether an entry with this key is stored already: its answer was lost on the way, and it is sent again. What speaks
 * against a new entry (a procedure of the same day) must then not be held against itself; `record` gives the answer again.
 */
export async function wasStored(actor: Actor, request: FormRequest): Promise<boolean> {
  const where = { labId_idempotencyKey: { labId: actor.labId, idempotencyKey: request.key } };
  return (await database().writeRequest.findUnique({ where, select: { action: true } })) !== null;
}
