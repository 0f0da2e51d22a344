import 'server-only';
import { randomUUID } from 'node:crypto';
import type { Actor } from '../actor';
import { database } from '../database';
import { record } from '../record';

export interface OperatorChoice {
  readonly id: string;
  readonly code: string;
}

/** The lab's operators by code; those who left come last and are marked by the caller's need, not here. */
export async function readOperators(actor: Actor): Promise<OperatorChoice[]> {
  return database().operator.findMany({
    where: { labId: actor.labId, retiredOn: null },
    select: { id: true, code: true },
    orderBy: { code: 'asc' },
  });
}

/** Adds an operator code. */
export async function createOperator(actor: Actor, code: string): Promise<{ id: string }> {
  return record(actor, { action: 'operator.create', reason: 'entered' }, async ({ tx, labId, note }) => {
    const id = randomUUID();
    await tx.operator.create({ data: { labId, id, code } });
    note({ entity: 'operators', entityId: id, patientId: null, before: null, after: { code } });
    return { id };
  });
}
