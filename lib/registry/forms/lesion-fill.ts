import { ELEMENT_FIELDS, type ElementField, FIELDS_OF_ABLATION } from './lesion-fields';
import type { TypedElement } from './lesion-values';

/** The segments of one ring in order, as typed. */
export type RingRow = readonly { readonly segment: string; readonly typed: TypedElement }[];

/** One cell to be set. */
export interface Fill {
  readonly segment: string;
  readonly field: ElementField;
  readonly value: string;
}

/** What was ablated is not said of a segment that was left out: such a row is passed over. */
const takes = (typed: TypedElement, field: ElementField): boolean =>
  !FIELDS_OF_ABLATION.includes(field) || (typed.state !== 'not-done' && typed.state !== 'not-applicable');

/** What stands in a column of every segment alike; '' where they differ or nothing stands. */
export function commonValue(ring: RingRow, field: ElementField): string {
  const [first] = ring;
  const value = first?.typed[field] ?? '';
  return ring.every(({ typed }) => typed[field] === value) ? value : '';
}

/**
 * "The whole ring as planned, except ...": the segments that a value for the ring goes to, which are those not set differently
 * (empty, or still holding what the ring had before). Exceptions keep what they have; those that were left out get nothing
 * that only ablation gives.
 */
export function ringTakers(ring: RingRow, field: ElementField, before: string): string[] {
  return ring
    .filter(({ typed }) => (typed[field] === '' || typed[field] === before) && takes(typed, field))
    .map(({ segment }) => segment);
}

/** A value for the whole ring, to the segments that take it and do not hold it yet. */
export function fillRing(
  ring: RingRow,
  field: ElementField,
  takers: readonly string[],
  value: string,
): Fill[] {
  return ring
    .filter(({ segment, typed }) => takers.includes(segment) && typed[field] !== value)
    .map(({ segment }) => ({ segment, field, value }));
}

/** Fill down: the value of one cell goes to the empty cells below it in its ring; what was typed is never overwritten. */
export function fillDown(ring: RingRow, field: ElementField, from: string): Fill[] {
  const start = ring.findIndex(({ segment }) => segment === from);
  const value = ring[start]?.typed[field] ?? '';
  if (start < 0 || value === '') return [];
  return ring
    .slice(start + 1)
    .filter(({ typed }) => typed[field] === '' && takes(typed, field))
    .map(({ segment }) => ({ segment, field, value }));
}

/** The rest of the ring like one segment: everything that stands there goes to the cells that are still empty. */
export function fillRest(ring: RingRow, from: string): Fill[] {
  const model = ring.find(({ segment }) => segment === from)?.typed;
  if (model === undefined) return [];
  return ELEMENT_FIELDS.filter((field) => model[field] !== '').flatMap((field) =>
    ring
      .filter(({ typed }) => typed[field] === '' && takes(typed, field))
      .filter(({ typed }) => field !== 'stateReason' || typed.state === '')
      .map(({ segment }) => ({ segment, field, value: model[field] })),
  );
}

/**
 * What goes with a new state of a segment: one that was left out loses what it has from the plan of its ring (typed
 * values stay, for the form to ask about); a reason goes once it no longer fits.
 */
export function fillsOfState(
  segment: string,
  typed: TypedElement,
  plan: Partial<TypedElement>,
  state: string,
): Fill[] {
  const isLeft = state === 'not-done' || state === 'not-applicable';
  const planned = isLeft
    ? FIELDS_OF_ABLATION.filter((field) => typed[field] !== '' && typed[field] === plan[field])
    : [];
  const reason: ElementField[] = typed.stateReason !== '' && typed.state !== state ? ['stateReason'] : [];
  return [...planned, ...reason].map((field) => ({ segment, field, value: '' }));
}

/** Typing what only ablation gives into a row without a state says that it was done: seen at once, and changed as easily. */
export function stateOfTyping(typed: TypedElement, field: ElementField, value: string): 'done' | null {
  return typed.state === '' && value.trim() !== '' && FIELDS_OF_ABLATION.includes(field) ? 'done' : null;
}
