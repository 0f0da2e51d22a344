import 'server-only';
import { ApplicationError, StaleEdit } from '../../runtime/application-error';
import { now } from '../../runtime/clock';
import type { Actor } from '../actor';
import { type FormRequest, record } from '../record';

interface CaseKey {
  readonly id: string;
  readonly patientId: string;
}
type Moved = { readonly id: string; readonly version: number };

/** Marks a draft as entered. What it must have is checked by the caller, on the version named here. */
export function enterCase(actor: Actor, one: CaseKey, version: number, request: FormRequest): Promise<Moved> {
  return move(actor, one, { action: 'case.enter', from: 'draft', version, request }, { state: 'entered' });
}

/** Signs an entered case: the person answers for its baseline, procedure and lesion set as they are in this version. */
export function signCase(actor: Actor, one: CaseKey, version: number, request: FormRequest): Promise<Moved> {
  const signature = { state: 'signed', signedById: actor.id, signedAt: now() };
  return move(actor, one, { action: 'case.sign', from: 'entered', version, request }, signature);
}

function move(
  actor: Actor,
  { id, patientId }: CaseKey,
  order: { action: string; from: string; version: number; request: FormRequest },
  data: { state: string; signedById?: string; signedAt?: Date },
): Promise<Moved> {
  const { action, from, version, request } = order;
  return record<Moved>(actor, { action, reason: 'entered', patientId, request }, async (open) => {
    const { tx, labId, note } = open;
    const key = { labId_id: { labId, id } };
    const before = await tx.procedure.findUniqueOrThrow({ where: key });
    if (before.version !== version) throw new StaleEdit(before.version, {});
    if (before.state !== from) {
      throw new ApplicationError(
        'conflict',
        `This case is ${before.state} by now. Reload the page to see it.`,
      );
    }
    const after = await tx.procedure.update({ where: key, data: { ...data, version: { increment: 1 } } });
    note({ entity: 'procedures', entityId: id, patientId, before, after });
    return { id, version: after.version };
  });
}

/** What a change of a signed case adds to its row: the signature stays, and the day of the amendment stands beside it. */
export const amendedColumns = (before: { readonly state: string }): { amendedAt?: Date } =>
  before.state === 'signed' ? { amendedAt: now() } : {};
