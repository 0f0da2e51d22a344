/**
 * A step that cannot go on, told to the person at the terminal: what happened, and what to do about it.
 * Anything else that is thrown is a defect and is shown with its stack.
 */
export class LaunchFailure extends Error {
  /**
   * @param {string} message what happened, one sentence
   * @param {string} advice what to do now
   */
  constructor(message, advice) {
    super(message);
    this.name = 'LaunchFailure';
    this.advice = advice;
  }
}

/**
 * @param {unknown} error
 * @returns {string} the text for the terminal
 */
export function describeFailure(error) {
  if (error instanceof LaunchFailure) return `${error.message}\n  What to do: ${error.advice}`;
  if (error instanceof Error) return error.stack ?? error.message;
  return String(error);
}

/**
 * @param {unknown} error
 * @returns {string | undefined} the code of a Node or PostgreSQL error
 */
export function codeOf(error) {
  if (typeof error !== 'object' || error === null || !('code' in error)) return undefined;
  return typeof error.code === 'string' ? error.code : undefined;
}

/**
 * @param {unknown} error
 * @returns {string}
 */
export function messageOf(error) {
  if (error instanceof AggregateError && error.errors.length > 0) return messageOf(error.errors[0]);
  return error instanceof Error ? error.message : String(error);
}
