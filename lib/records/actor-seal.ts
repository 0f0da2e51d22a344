import 'server-only';
import type { Actor } from './actor';

const sealed = new WeakSet<object>();

/** Makes an Actor; only the two doors beside this file may import it. */
export function sealActor(facts: Pick<Actor, 'labId' | 'kind' | 'id' | 'code' | 'role'>): Actor {
  const actor = Object.freeze({ ...facts });
  sealed.add(actor);
  if (!isActor(actor)) throw new Error('an actor could not be sealed');
  return actor;
}

/** True for an Actor made by one of the two doors; an object that merely looks like one is refused. */
export function isActor(candidate: object): candidate is Actor {
  return sealed.has(candidate);
}
