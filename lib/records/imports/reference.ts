import 'server-only';
import type { Actor } from '../actor';
import { hashOutsideNumber } from '../sealing';

/** Keyed hash of a patient's number in an imported file, as hexadecimal text: the number itself goes no further. */
export function hashImportReference(actor: Actor, reference: string): string {
  const [newest] = hashOutsideNumber(actor.labId, 'import-reference', reference);
  if (!newest) throw new Error('no identity key');
  return Buffer.from(newest.hash).toString('hex');
}
