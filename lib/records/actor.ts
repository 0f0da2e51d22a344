import 'server-only';
import type { Role } from '../registry/vocabulary';

declare const actorBrand: unique symbol;

/** Who acts, in which lab. Nobody can write one down: access makes them of sessions, programs of their name. */
export interface Actor {
  readonly [actorBrand]: true;
  readonly labId: string;
  readonly kind: 'person' | 'program';
  /** User id, or the program's name. */
  readonly id: string;
  /** Code shown to people: 'C-01', or the program's name. */
  readonly code: string;
  readonly role: Role | 'program';
}
