import 'server-only';
import { ApplicationError } from '../runtime/application-error';
import { now } from '../runtime/clock';
import type { Actor } from './actor';
import { isActor } from './actor-seal';
import { refreshAnalysisRows } from './analysis-rows';
import { canonicalJson, hashEntry } from './audit-chain';
import { database, Prisma, type Transaction } from './database';
import { encrypt, keyOfPatient } from './sealing';
import type { RecordTable } from './tables';

/** What a write may answer and what is stored as the answer to its request key. */
export type Outcome = { readonly [name: string]: string | number | boolean | null | readonly string[] };

export interface WriteOrder {
  /** What is done, as '<entity>.<verb>': 'patient.create'. */
  readonly action: string;
  /** A code of AMENDMENT_REASONS, or 'entered', 'seeded', 'imported'. */
  readonly reason: string;
  /** The patient whose rows are written: locked before anything is read. */
  readonly patientId?: string;
  readonly request?: FormRequest;
}

/** A form's entry as it was sent: the same key and values twice give the first answer again and write nothing. */
export interface FormRequest {
  /** UUID made by the form, kept until an entry is stored. */
  readonly key: string;
  /** SHA-256 of the values as typed. */
  readonly valuesHash: Uint8Array<ArrayBuffer>;
}

interface Change {
  readonly entity: RecordTable;
  readonly entityId: string;
  /** Whose values these are; null for administrative rows. Patient values are sealed with the patient's key. */
  readonly patientId: string | null;
  readonly before: object | null;
  readonly after: object | null;
}

export interface OpenWrite {
  readonly tx: Transaction;
  readonly labId: string;
  /** Notes a change for the trail; a write that notes none is refused. */
  note(change: Change): void;
}

const TIMES = { maxWait: 5_000, timeout: 60_000 };

/**
 * The door for clinical and administrative tables: one transaction that locks the patient, does the work, refreshes the
 * patient's analysis rows, and chains the audit entries at the lab's head last. All of it or nothing.
 */
export async function record<T extends Outcome>(
  actor: Actor,
  order: WriteOrder,
  work: (open: OpenWrite) => Promise<T>,
): Promise<T> {
  if (!isActor(actor)) throw new ApplicationError('unauthenticated', 'Please sign in.');
  try {
    return await database().$transaction((tx) => writeOnce(tx, actor, order, work), TIMES);
  } catch (error) {
    const earlier = isTakenKey(error) ? await earlierOutcome<T>(database(), actor, order) : null;
    if (earlier) return earlier;
    throw error;
  }
}

async function writeOnce<T extends Outcome>(
  tx: Transaction,
  actor: Actor,
  order: WriteOrder,
  work: (open: OpenWrite) => Promise<T>,
): Promise<T> {
  const { labId } = actor;
  if (order.patientId !== undefined) await lockPatient(tx, labId, order.patientId);
  const earlier = await earlierOutcome<T>(tx, actor, order);
  if (earlier) return earlier;
  const changes: Change[] = [];
  const outcome = await work({ tx, labId, note: (change) => void changes.push(change) });
  if (changes.length === 0) throw new Error(`${order.action} wrote nothing to the trail`);
  const patients = [...new Set(changes.flatMap((change) => change.patientId ?? []))];
  await refreshAnalysisRows(tx, labId, patients);
  await appendToTrail(tx, actor, order, await sealChanges(tx, labId, order, changes));
  if (order.request !== undefined) {
    const { key, valuesHash } = order.request;
    await tx.writeRequest.create({
      data: { labId, idempotencyKey: key, userId: actor.id, action: order.action, valuesHash, outcome },
    });
  }
  return outcome;
}

async function lockPatient(tx: Transaction, labId: string, patientId: string): Promise<void> {
  const rows = await tx.$queryRaw<unknown[]>`
    SELECT 1 FROM patients WHERE lab_id = ${labId}::uuid AND id = ${patientId}::uuid FOR UPDATE`;
  if (rows.length === 0) throw new ApplicationError('not-found', 'There is no such patient in this lab.');
}

async function earlierOutcome<T extends Outcome>(
  tx: Pick<Transaction, 'writeRequest'>,
  actor: Actor,
  order: WriteOrder,
): Promise<T | null> {
  if (order.request === undefined) return null;
  const row = await tx.writeRequest.findUnique({
    where: { labId_idempotencyKey: { labId: actor.labId, idempotencyKey: order.request.key } },
  });
  if (!row) return null;
  if (row.userId !== actor.id || row.action !== order.action) {
    throw new ApplicationError(
      'conflict',
      'This form was already used for something else. Reload the page and enter it again.',
    );
  }
  if (!Buffer.from(order.request.valuesHash).equals(row.valuesHash)) {
    throw new ApplicationError(
      'conflict',
      'An earlier save of this form did arrive, with other values. Open what was stored in another tab and change it there.',
    );
  }
  return row.outcome as T;
}

function isTakenKey(error: unknown): boolean {
  return error instanceof Prisma.PrismaClientKnownRequestError && error.code === 'P2002';
}

/** One entry of the trail, ready to chain. */
export interface TrailItem {
  readonly entity: RecordTable;
  readonly entityId: string;
  readonly patientId: string | null;
  readonly sealed: boolean;
  readonly payload: Uint8Array;
}

async function sealChanges(
  tx: Transaction,
  labId: string,
  order: WriteOrder,
  changes: readonly Change[],
): Promise<TrailItem[]> {
  const keys = new Map<string, Buffer>();
  const items: TrailItem[] = [];
  for (const { entity, entityId, patientId, before, after } of changes) {
    const plain = Buffer.from(canonicalJson({ reason: order.reason, before, after }));
    if (patientId === null) {
      items.push({ entity, entityId, patientId, sealed: false, payload: plain });
      continue;
    }
    const key = keys.get(patientId) ?? (await keyOfPatient(tx, labId, patientId));
    if (!key) throw new ApplicationError('not-found', 'This patient was erased; nothing can be added.');
    keys.set(patientId, key);
    items.push({ entity, entityId, patientId, sealed: true, payload: encrypt(key, plain) });
  }
  return items;
}

/** Locks the lab's head, chains the items behind it, raises the data version by one. Last step of every write. */
export async function appendToTrail(
  tx: Transaction,
  actor: Actor,
  order: Pick<WriteOrder, 'action'>,
  items: readonly TrailItem[],
): Promise<void> {
  const { labId } = actor;
  const [head] = await tx.$queryRaw<{ seq: bigint; hash: Uint8Array<ArrayBuffer> }[]>`
    SELECT seq, hash FROM audit_heads WHERE lab_id = ${labId}::uuid FOR UPDATE`;
  if (!head) throw new Error('the lab has no audit head');
  const at = now();
  let { seq, hash } = head;
  const rows = items.map((item) => {
    const facts = { labId, at, actorKind: actor.kind, actorId: actor.id, action: order.action, ...item };
    const previousHash = hash;
    seq += 1n;
    hash = hashEntry(seq, facts, previousHash);
    return { ...facts, payload: new Uint8Array(item.payload), seq, previousHash, hash };
  });
  await tx.auditEntry.createMany({ data: rows });
  await tx.auditHead.update({ where: { labId }, data: { seq, hash, dataVersion: { increment: 1 } } });
}
