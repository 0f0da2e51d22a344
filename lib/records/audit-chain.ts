import 'server-only';
import { createHash } from 'node:crypto';

/** One entry of the trail before it is chained. Payload is ciphertext when sealed, canonical JSON otherwise. */
export interface AuditFacts {
  readonly labId: string;
  readonly at: Date;
  readonly actorKind: string;
  readonly actorId: string;
  readonly action: string;
  readonly entity: string;
  readonly entityId: string;
  readonly patientId: string | null;
  readonly sealed: boolean;
  readonly payload: Uint8Array;
}

/** What stands before the first entry of a lab. */
export const GENESIS: Uint8Array<ArrayBuffer> = new Uint8Array(32);

/** JSON with sorted keys, so that equal content has equal bytes. Dates as ISO text, bigint as text, bytes as hex. */
export function canonicalJson(value: unknown): string {
  if (value === undefined) return 'null';
  if (value === null || typeof value === 'boolean' || typeof value === 'string') return JSON.stringify(value);
  if (typeof value === 'number')
    return Number.isFinite(value) ? JSON.stringify(value) : JSON.stringify(String(value));
  if (typeof value === 'bigint') return JSON.stringify(value.toString());
  if (value instanceof Date) return JSON.stringify(value.toISOString());
  if (value instanceof Uint8Array) return JSON.stringify(Buffer.from(value).toString('hex'));
  if (Array.isArray(value)) return `[${value.map(canonicalJson).join(',')}]`;
  if (typeof value === 'object') {
    if ('toFixed' in value) return JSON.stringify(String(value)); // decimals of the database
    const members = Object.entries(value).filter(([, member]) => member !== undefined);
    members.sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0));
    return `{${members.map(([name, member]) => `${JSON.stringify(name)}:${canonicalJson(member)}`).join(',')}}`;
  }
  throw new TypeError(`cannot be written in canonical form: ${typeof value}`);
}

/** SHA-256 over the previous hash and every fact of the entry, each framed by its length so that none can bleed into the next. */
export function hashEntry(seq: bigint, facts: AuditFacts, previousHash: Uint8Array): Uint8Array<ArrayBuffer> {
  const digest = createHash('sha256').update(previousHash);
  const texts = [
    facts.labId,
    seq.toString(),
    facts.at.toISOString(),
    facts.actorKind,
    facts.actorId,
    facts.action,
  ];
  texts.push(facts.entity, facts.entityId, facts.patientId ?? '', facts.sealed ? 'sealed' : 'open');
  for (const part of [...texts.map((text) => Buffer.from(text)), Buffer.from(facts.payload)]) {
    digest.update(`${part.length}:`).update(part);
  }
  return new Uint8Array(digest.digest());
}
