export type ApplicationErrorKind =
  | 'unauthenticated'
  | 'forbidden'
  | 'not-found'
  | 'conflict'
  | 'invalid'
  | 'internal';

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

/** A stale edit: the record is at `storedVersion` by now and holds `stored`, by path of the form's fields. */
export class StaleEdit extends Error {
  override readonly name = 'StaleEdit';
  constructor(
    readonly storedVersion: number,
    readonly stored: Readonly<Record<string, string | number | boolean | null>>,
  ) {
    super('The record was changed by somebody else since it was opened.');
  }
}
