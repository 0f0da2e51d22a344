import type { Finding } from './findings';

/** A value as a form holds it: text, a tick, or nothing. */
export type FormValue = string | number | boolean | null;

/**
 * What a form sends to its server action: its values as typed (the server parses them with the same schema) and a
 * key that stays the same until the entry is stored, so that an entry sent twice is stored once.
 */
export interface WriteInput<Values> {
  readonly idempotencyKey: string;
  readonly values: Values;
}

/** One field that somebody else changed since it was read: both sides as form values. */
export interface ConflictField {
  /** Path of the field in the form, for example 'performedOn' or 'recordings.0.hours'. */
  readonly field: string;
  readonly label: string;
  readonly yours: FormValue;
  readonly stored: FormValue;
}

/** Every answer that a write may give to a form. A form keeps what was typed on all of them but 'saved'. */
export type WriteResult =
  | {
      readonly kind: 'saved';
      readonly id: string;
      readonly version: number;
      readonly message: string;
      /** Where to go next; the form stays where it is without one. */
      readonly href?: string;
    }
  | { readonly kind: 'invalid'; readonly findings: readonly Finding[] }
  | { readonly kind: 'conflict'; readonly fields: readonly ConflictField[]; readonly storedVersion: number }
  | { readonly kind: 'unauthenticated' }
  | { readonly kind: 'forbidden'; readonly message: string }
  | { readonly kind: 'failed'; readonly message: string; readonly reference: string };
