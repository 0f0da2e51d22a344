export type ApplicationErrorKind =
  | 'unauthenticated'
  | 'forbidden'
  | 'not-found'
  | 'conflict'
  | 'invalid'
  | 'internal';

/** One field of a record that somebody else changed meanwhile: values as people read them. */
export interface ConflictField {
  readonly field: string;
  readonly stored: string;
}

/** What the application refuses, in words that may be shown to a person. Anything else thrown is 'internal' and never shown. */
export class ApplicationError extends Error {
  override readonly name = 'ApplicationError';
  constructor(
    readonly kind: ApplicationErrorKind,
    message: string,
    /** For 'invalid': one message per field. */
    readonly fields: readonly { field: string; message: string }[] = [],
  ) {
    super(message);
  }
}

/** A stale edit: the record is at `storedVersion` and these fields differ from what the editor saw and wrote. */
export class StaleEdit extends Error {
  override readonly name = 'StaleEdit';
  constructor(
    readonly storedVersion: number,
    readonly differing: readonly ConflictField[],
  ) {
    super('The record was changed by somebody else since it was opened.');
  }
}
