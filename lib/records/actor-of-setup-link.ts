import 'server-only';
import { createHash } from 'node:crypto';
import { now } from '../runtime/clock';
import type { Actor } from './actor';
import { sealActor } from './actor-seal';
import { database } from './database';

/** A setup link is stored as its hash only. */
export function hashOfSetupToken(token: string): Uint8Array<ArrayBuffer> {
  return new Uint8Array(createHash('sha256').update(token).digest());
}

/** Whoever holds a one-time link that is neither used nor expired; null otherwise. Using it up is the writer's part. */
export async function actorOfSetupLink(token: string): Promise<Actor | null> {
  const link = await database().setupLink.findFirst({
    where: { tokenHash: hashOfSetupToken(token), usedAt: null, expiresAt: { gt: now() } },
  });
  return (
    link &&
    sealActor({ labId: link.labId, kind: 'program', id: 'first-run', code: 'first run', role: 'program' })
  );
}
